using Weasel.Core;
using Weasel.Core.Migrations;
using Weasel.Postgresql;
using Weasel.Postgresql.Tables;

namespace SetWeek.Service.Storage.Schema;

/// <summary>The secret addresses of calendars: at most one for each person of a week (docs/decisions/calendars.md).</summary>
internal sealed class CalendarSchema(string schema, Migrator migrator) : FeatureSchemaBase("calendar", migrator)
{
    protected override IEnumerable<ISchemaObject> schemaObjects()
    {
        var calendar = new Table(new PostgresqlObjectName(schema, "calendar", SchemaUtils.IdentifierUsage.General))
        {
            PrimaryKeyName = "calendar_pkey",
        };
        calendar.AddColumn("tenant_id", "text").NotNull().AsPrimaryKey();
        calendar.AddColumn("week", "text").NotNull().AsPrimaryKey();
        calendar.AddColumn("person", "text").NotNull().AsPrimaryKey();
        // SHA-256 of the secret in the address.
        calendar.AddColumn("secret_hash", "bytea").NotNull();
        calendar.AddColumn("created", "timestamptz").NotNull();
        calendar.Indexes.Add(new IndexDefinition("calendar_secret") { Columns = ["secret_hash"], IsUnique = true });
        yield return calendar;
    }
}
