using System.Data.Common;
using Weasel.Core;
using Weasel.Postgresql.Triggers;

namespace SetWeek.Service.Storage.Schema;

/// <summary>
/// Notes each event that is inserted. Where the trigger is new, the events that are there already are noted once.
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
    /// PostgreSQL prints the function without its schema where the session's search path has that schema: both forms match.
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
