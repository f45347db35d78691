using System.Data.Common;
using Weasel.Core;
using Weasel.Postgresql.Triggers;

namespace SetWeek.Service.Storage.Schema;

/// <summary>
/// Adds a row to the feed table for each inserted event. When the trigger is created, it also adds rows for existing events.
/// A tombstone gets no row: it is the event store's placeholder for the number of an append that was rolled back.
/// </summary>
internal sealed class FeedTrigger : Trigger
{
    private readonly DbObjectName function, feed, head;

    public FeedTrigger(DbObjectName function, DbObjectName events, DbObjectName feed, DbObjectName head)
        : base(function, events, $"{function.QualifiedName}()")
    {
        (this.function, this.feed, this.head) = (function, feed, head);
        (Timing, Events, ForEachRow) = (TriggerTiming.After, TriggerEvents.Insert, true);
        Condition = "((new.type)::text <> 'tombstone'::text)"; // as PostgreSQL prints it
    }

    /// <summary>
    /// PostgreSQL omits the schema of the function if it is on the search path of the session, so both forms are accepted.
    /// </summary>
    public override async Task<ISchemaObjectDelta> CreateDeltaAsync(DbDataReader reader, CancellationToken ct)
    {
        if (!await reader.ReadAsync(ct)) return new SchemaObjectDelta(this, SchemaPatchDifference.Create);
        var definition = await reader.GetFieldValueAsync<string>(0, ct);
        var qualified = definition.Replace($"FUNCTION {function.Name}()", $"FUNCTION {function.QualifiedName}()");
        return new SchemaObjectDelta(this,
            Matches(qualified) ? SchemaPatchDifference.None : SchemaPatchDifference.Update);
    }

    public override void WriteCreateStatement(Migrator migrator, TextWriter writer)
    {
        base.WriteCreateStatement(migrator, writer);
        writer.WriteLine($"delete from {feed.QualifiedName} f using {Target.QualifiedName} e "
            + "where e.seq_id = f.seq_id and e.type = 'tombstone';");
        writer.WriteLine($"insert into {feed.QualifiedName} (tenant_id, seq_id) "
            + $"select tenant_id, seq_id from {Target.QualifiedName} where type <> 'tombstone' on conflict do nothing;");
        writer.WriteLine($"insert into {head.QualifiedName} (tenant_id, place) "
            + $"select tenant_id, max(place) from {feed.QualifiedName} where place is not null group by tenant_id "
            + "on conflict do nothing;");
    }
}
