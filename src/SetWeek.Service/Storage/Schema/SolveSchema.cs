using Weasel.Core;
using Weasel.Core.Migrations;
using Weasel.Postgresql;
using Weasel.Postgresql.Tables;

namespace SetWeek.Service.Storage.Schema;

/// <summary>
/// The claim table: a row for each unfinished request for a plan, and for each chain the time at which it was last served
/// (docs/decisions/messages.md).
/// </summary>
internal sealed class SolveSchema(string schema, Migrator migrator) : FeatureSchemaBase("solving", migrator)
{
    protected override IEnumerable<ISchemaObject> schemaObjects()
    {
        var requests = new Table(Named("solve_requests")) { PrimaryKeyName = "solve_requests_pkey" };
        requests.AddColumn("tenant_id", "text").NotNull().AsPrimaryKey();
        requests.AddColumn("plan", "text").NotNull().AsPrimaryKey();
        requests.AddColumn("week", "text").NotNull();
        requests.AddColumn("priority", "int").NotNull();
        requests.AddColumn("asked", "timestamptz").NotNull();
        // The node that searches, and until when its claim holds unless it is renewed. Null while the request waits.
        requests.AddColumn("node", "text");
        requests.AddColumn("lease", "timestamptz");
        requests.AddColumn("begun", "timestamptz");
        requests.AddColumn("attempt", "int").NotNull();
        requests.AddColumn("yielding", "boolean").NotNull();
        requests.AddColumn("yields", "int").NotNull();
        // The best plan so far, for readers on every node.
        requests.AddColumn("best", "jsonb");
        // Whether a lead has asked the search to end with the best plan so far. It may be null: older rows have none.
        requests.AddColumn("ending", "boolean");
        yield return requests;

        var turns = new Table(Named("solve_turns")) { PrimaryKeyName = "solve_turns_pkey" };
        turns.AddColumn("tenant_id", "text").NotNull().AsPrimaryKey();
        turns.AddColumn("served", "timestamptz").NotNull();
        yield return turns;
    }

    private PostgresqlObjectName Named(string name) => new(schema, name, SchemaUtils.IdentifierUsage.General);
}
