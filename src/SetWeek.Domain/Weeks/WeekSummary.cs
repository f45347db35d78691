using NodaTime;
using SetWeek.Domain.Weeks.Events.Snags;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Weeks;

/// <summary>What lists show of a week. Small, so that a node can keep it for every week of a chain.</summary>
/// <param name="Waiting">The kits that tasks wait for, ordered by id.</param>
/// <param name="Blocks">The work that is blocked, ordered as in the week.</param>
public sealed record WeekSummary(
    string Id, string Store, string Direction, LocalDateTime Launch, WeekStage Stage, string? PublishedPlan,
    IReadOnlyList<WaitingKit> Waiting, IReadOnlyList<BlockedWork> Blocks)
{
    /// <summary>What is reported of snags.</summary>
    public ReportedSnags Snags { get; init; } = ReportedSnags.Empty;

    /// <summary>Where each snag is, by the report that raised it: its zone by name, else its display or its task.</summary>
    public IReadOnlyDictionary<string, string> SnagPlaces { get; init; } = new Dictionary<string, string>();

    /// <summary>By the memos of head office that the lead has read: when.</summary>
    public IReadOnlyDictionary<string, Instant> MemosRead { get; init; } = new Dictionary<string, Instant>();

    /// <summary>The IANA time zone of the store.</summary>
    public string TimeZone { get; init; } = "";

    public static WeekSummary Of(StoreWeek week)
    {
        var work = week.ReportedWork.Statuses.ToList();
        return new WeekSummary(week.Id, week.Week.Store.Id, week.Direction, week.Week.Launch, StageOf(week, work),
            week.Published?.PlanId,
            [.. WaitingKitsOf(week)],
            [
                .. work.Where(status => status is { State: WorkState.Blocked, Paused: false }).Select(status => new BlockedWork(
                    status.Subject.Task, status.Subject.Task is null ? null : status.Subject.Stint, status.Subject.CleanDown,
                    status.Subject.Night, status.Reason, status.RemainingMinutes, status.Until)),
            ])
        {
            Snags = week.Snags, SnagPlaces = SnagPlacesOf(week), TimeZone = week.Week.Store.TimeZone,
            MemosRead = week.MemosRead.Values.ToDictionary(read => read.Memo, read => read.At),
        };
    }

    /// <summary>The kits that tasks wait for, ordered by id.</summary>
    public static IEnumerable<WaitingKit> WaitingKitsOf(StoreWeek week) =>
        week.Week.Kits.OrderBy(kit => kit.Id, StringComparer.Ordinal)
            .Where(kit => week.Week.Tasks.Any(task => task.Needs.Any(need => need.Kit == kit.Id)))
            .Select(kit => (Kit: kit, Missing: week.MissingOf(kit.Id)))
            .Where(kit => kit.Missing is not null || !week.Arrivals.ContainsKey(kit.Kit.Id))
            .Select(kit => new WaitingKit(kit.Kit.Id, kit.Kit.Name, kit.Kit.Eta,
                week.Arrivals.TryGetValue(kit.Kit.Id, out var arrived) ? arrived : null, kit.Missing));

    private static Dictionary<string, string> SnagPlacesOf(StoreWeek week) => week.Snags.Reports.OfType<SnagRaised>()
        .DistinctBy(snag => snag.Report).ToDictionary(snag => snag.Report, snag =>
            week.Week.Store.Zones.FirstOrDefault(zone => zone.Id == snag.Area)?.Name
                ?? week.Week.Displays.FirstOrDefault(display => display.Id == snag.Display)?.Name
                ?? week.Week.Tasks.FirstOrDefault(task => task.Id == snag.Task)?.Name ?? "a place that is not known");

    private static WeekStage StageOf(StoreWeek week, List<WorkStatus> work)
    {
        if (week.Published is not { } published) return WeekStage.Unplanned;
        var planned = published.Plan.Nights.Sum(night => night.Work.Count);
        var done = work.Count(status => status.State == WorkState.Done);
        return done >= planned && planned > 0 ? WeekStage.Done : work.Count > 0 ? WeekStage.Begun : WeekStage.Published;
    }
}

/// <summary>
/// How far a week is. Unplanned: no plan is published. Begun: some work is reported. Done: as much work is finished as the
/// published plan has.
/// </summary>
public enum WeekStage { Unplanned, Published, Begun, Done }

/// <summary>A kit that tasks wait for: it has not arrived, or something of it is uncounted or short.</summary>
/// <param name="Eta">Store-local; null if unknown.</param>
public sealed record WaitingKit(string Kit, string Name, LocalDateTime? Eta, OffsetDateTime? Arrived, KitCounts.Missing? Missing);

/// <summary>Blocked work: a stint of a task, or the clean-down of a zone in a night.</summary>
public sealed record BlockedWork(
    string? Task, int? Stint, string? CleanDown, string? Night, string? Reason, int? RemainingMinutes, OffsetDateTime? Until);
