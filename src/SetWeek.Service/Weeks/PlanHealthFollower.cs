using JasperFx.Events;
using Marten;
using Npgsql;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Following;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Weeks;

/// <summary>
/// Appends the event that a published plan no longer holds, or holds again, soon after the reports with which it does. A report
/// is committed without a check of the plan, and all new reports on a week are checked at once. A check that fails is logged and
/// does not stop those of other weeks; the week is checked again with its next report that does not agree with the plan.
/// </summary>
public sealed class PlanHealthFollower(ILogger<PlanHealthFollower> log) : IFollower
{
    public const string FollowerName = "plan-health";

    private static readonly TimeSpan LockWait = TimeSpan.FromSeconds(5);

    public string Name => FollowerName;

    /// <summary>What a lead or head office decides is checked in the commit of the decision.</summary>
    public IReadOnlyList<string> Ignored { get; } =
        [.. StoredEvents.Names.Where(known => !IsFromFloor(known.Key)).Select(known => known.Value)];

    public async Task Follow(IDocumentSession session, IReadOnlyList<FeedEntry> entries, CancellationToken cancelled)
    {
        var sequences = entries.Select(entry => entry.Sequence).ToArray();
        var reports = (await session.Events.QueryAllRawEvents().Where(e => e.Sequence.IsOneOf(sequences)).ToListAsync(cancelled))
            .Where(e => IsFromFloor(e.Data.GetType())).OrderBy(e => e.Version)
            .GroupBy(e => e.StreamKey![Streams.WeekKey("").Length..])
            .ToDictionary(week => week.Key, week => (IReadOnlyList<IEvent>)[.. week]);
        var found = new Dictionary<string, (long Version, IWeekEvent Change)>();
        foreach (var (id, ofWeek) in reports)
        {
            var week = Streams.KnownWeek(session, id) is { } known && known.Version >= ofWeek[^1].Version
                ? known : await Streams.Week(session, id, cancelled);
            if (await Change(session, week, ofWeek, cancelled) is { } change) found[id] = (week.Version, change);
        }
        if (found.Count == 0) return;

        // Reports go on during the checks. From here on those of the changed weeks wait until the commit.
        await Streams.LockWeeks(session, [.. found.Keys], LockWait);
        foreach (var (id, (version, checkedChange)) in found)
        {
            var week = await Streams.Week(session, id, cancelled);
            var change = week.Version == version ? checkedChange : await Change(session, week, reports[id], cancelled);
            if (change is not null) week.Append(session, EventOf(session, change, reports[id]));
        }
    }

    private static bool IsFromFloor(Type type) => type.IsAssignableTo(typeof(IFloorReport)) || type == typeof(KitCounted);

    /// <summary>Null if the reports change nothing, or if that could not be computed.</summary>
    private async Task<IWeekEvent?> Change(IDocumentSession session, FoldedStream<StoreWeek> week,
        IReadOnlyList<IEvent> reports, CancellationToken cancelled)
    {
        var events = reports.Select(e => (IWeekEvent)e.Data).ToList();
        try
        {
            return PlanHealth.NeedsCheck(week.State!, events)
                ? PlanHealth.Change(week.State!, await session.CrewOf(week.State!.Id, cancelled), events) : null;
        }
        catch (Exception error) when (!cancelled.IsCancellationRequested && error.GetBaseException() is not NpgsqlException)
        {
            log.LogError(error, "Whether the published plan of the week {Week} still holds is not known.", week.State!.Id);
            return null;
        }
    }

    /// <summary>With the person, the cause and the time of the report with which it happened.</summary>
    private static IEvent EventOf(IDocumentSession session, IWeekEvent change, IReadOnlyList<IEvent> reports)
    {
        var cause = reports.FirstOrDefault(e => change is PlanBroken { By: { } report } && e.Data is IFloorReport from
            && from.Report == report) ?? reports[^1];
        return session.EventOf(
            change, cause.UserName ?? "", cause.CausationId ?? "", cause.CorrelationId ?? "", EventMetadata.HappenedAt(cause));
    }
}
