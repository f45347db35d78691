using Weasel.Core;
using Weasel.Core.Migrations;
using Weasel.Postgresql;
using Weasel.Postgresql.Tables;

namespace SetWeek.Service.Storage.Schema;

/// <summary>The table of the answers to requests with an idempotency key.</summary>
internal sealed class IdempotencySchema(string schema, Migrator migrator) : FeatureSchemaBase("idempotency", migrator)
{
    protected override IEnumerable<ISchemaObject> schemaObjects()
    {
        var table = new Table(new PostgresqlObjectName(schema, "remembered", SchemaUtils.IdentifierUsage.General))
        {
            PrimaryKeyName = "remembered_pkey",
        };
        table.AddColumn("tenant_id", "text").NotNull().AsPrimaryKey();
        table.AddColumn("person", "text").NotNull().AsPrimaryKey();
        table.AddColumn("route", "text").NotNull().AsPrimaryKey();
        table.AddColumn("key", "text").NotNull().AsPrimaryKey();
        table.AddColumn("at", "timestamptz").NotNull();
        table.AddColumn("body_hash", "bytea").NotNull();
        // These three are null until the request has been answered.
        table.AddColumn("status", "int");
        table.AddColumn("headers", "jsonb");
        table.AddColumn("content", "bytea");
        table.Indexes.Add(new IndexDefinition("remembered_at") { Columns = ["at"] });
        yield return table;
    }
}
