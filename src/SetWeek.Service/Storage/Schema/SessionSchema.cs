using Weasel.Core;
using Weasel.Core.Migrations;
using Weasel.Postgresql;
using Weasel.Postgresql.Tables;

namespace SetWeek.Service.Storage.Schema;

/// <summary>
/// Browser sessions, sign-in links, enrolled phones, PINs, and the keys of data protection (docs/decisions/sign-in.md).
/// </summary>
internal sealed class SessionSchema(string schema, Migrator migrator) : FeatureSchemaBase("session", migrator)
{
    protected override IEnumerable<ISchemaObject> schemaObjects()
    {
        var session = new Table(Named("browser_session")) { PrimaryKeyName = "browser_session_pkey" };
        // SHA-256 of the key that the cookie holds.
        session.AddColumn("key_hash", "bytea").NotNull().AsPrimaryKey();
        session.AddColumn("id", "text").NotNull();
        session.AddColumn("tenant_id", "text").NotNull();
        session.AddColumn("person", "text").NotNull();
        // The enrolled phone that it was opened on; null elsewhere.
        session.AddColumn("phone", "text");
        session.AddColumn("opened", "timestamptz").NotNull();
        session.AddColumn("until", "timestamptz").NotNull();
        session.AddColumn("ticket", "bytea").NotNull();
        session.Indexes.Add(new IndexDefinition("browser_session_id") { Columns = ["id"], IsUnique = true });
        session.Indexes.Add(new IndexDefinition("browser_session_person") { Columns = ["tenant_id", "person"] });
        session.Indexes.Add(new IndexDefinition("browser_session_until") { Columns = ["until"] });
        yield return session;

        var link = new Table(Named("spent_link")) { PrimaryKeyName = "spent_link_pkey" };
        link.AddColumn("id", "text").NotNull().AsPrimaryKey();
        // When the link would have expired; the row is not needed after it.
        link.AddColumn("until", "timestamptz").NotNull();
        yield return link;

        var key = new Table(Named("protection_key")) { PrimaryKeyName = "protection_key_pkey" };
        key.AddColumn("name", "text").NotNull().AsPrimaryKey();
        key.AddColumn("xml", "text").NotNull();
        yield return key;

        var phone = new Table(Named("phone")) { PrimaryKeyName = "phone_pkey" };
        phone.AddColumn("tenant_id", "text").NotNull().AsPrimaryKey();
        phone.AddColumn("id", "text").NotNull().AsPrimaryKey();
        phone.AddColumn("store", "text").NotNull();
        phone.AddColumn("name", "text").NotNull();
        // SHA-256 of the key that the phone's cookie holds.
        phone.AddColumn("key_hash", "bytea").NotNull();
        phone.AddColumn("enrolled_by", "text").NotNull();
        phone.AddColumn("enrolled", "timestamptz").NotNull();
        // When somebody last signed in on it by PIN; null if nobody has.
        phone.AddColumn("last_sign_in", "timestamptz");
        phone.Indexes.Add(new IndexDefinition("phone_key") { Columns = ["key_hash"], IsUnique = true });
        yield return phone;

        var code = new Table(Named("phone_code")) { PrimaryKeyName = "phone_code_pkey" };
        code.AddColumn("code_hash", "bytea").NotNull().AsPrimaryKey();
        code.AddColumn("tenant_id", "text").NotNull();
        code.AddColumn("store", "text").NotNull();
        code.AddColumn("name", "text").NotNull();
        code.AddColumn("made_by", "text").NotNull();
        code.AddColumn("until", "timestamptz").NotNull();
        yield return code;

        var pin = OfPerson("pin");
        pin.AddColumn("salt", "bytea").NotNull();
        pin.AddColumn("hash", "bytea").NotNull();
        // Tries since the last right one, and until when the name is closed.
        pin.AddColumn("tries", "int").NotNull();
        pin.AddColumn("closed_until", "timestamptz");
        yield return pin;

        // A lead has allowed the person to choose a PIN.
        var permission = OfPerson("pin_permission");
        permission.AddColumn("until", "timestamptz").NotNull();
        yield return permission;
    }

    /// <summary>A table with a row for each person of a store.</summary>
    private Table OfPerson(string name)
    {
        var table = new Table(Named(name)) { PrimaryKeyName = $"{name}_pkey" };
        table.AddColumn("tenant_id", "text").NotNull().AsPrimaryKey();
        table.AddColumn("store", "text").NotNull().AsPrimaryKey();
        table.AddColumn("person", "text").NotNull().AsPrimaryKey();
        return table;
    }

    private PostgresqlObjectName Named(string name) => new(schema, name, SchemaUtils.IdentifierUsage.General);
}
