using System.Data.Common;
using Weasel.Core;
using Weasel.Postgresql.Triggers;

namespace SetWeek.Service.Storage.Schema;

/// <summary>
/// Adds a row to the feed table for each inserted event. When the trigger is created, it also adds rows for existing events.
/// </summary>
internal sealed class FeedTrigger : Trigger
{
    private readonly DbObjectName function, feed;

    public FeedTrigger(DbObjectName function, DbObjectName events, DbObjectName feed)
        : base(function, events, $"{function.QualifiedName}()")
    {
        (this.function, this.feed) = (function, feed);
        (Timing, Events, ForEachRow) = (TriggerTiming.After, TriggerEvents.Insert, true);
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
        writer.WriteLine($"insert into {feed.QualifiedName} (tenant_id, seq_id) "
            + $"select tenant_id, seq_id from {Target.QualifiedName} on conflict do nothing;");
    }
}
