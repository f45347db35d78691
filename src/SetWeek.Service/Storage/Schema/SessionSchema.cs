using Weasel.Core;
using Weasel.Core.Migrations;
using Weasel.Postgresql;
using Weasel.Postgresql.Tables;

namespace SetWeek.Service.Storage.Schema;

/// <summary>Browser sessions, spent sign-in links, and the keys of data protection (docs/decisions/sign-in.md).</summary>
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
    }

    private PostgresqlObjectName Named(string name) => new(schema, name, SchemaUtils.IdentifierUsage.General);
}
