using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Closings;

/// <summary>What is left when a night is to be closed, as far as it is reported.</summary>
/// <param name="Inside">The ids of the people who are recorded as in the store.</param>
/// <param name="Unfinished">Work that was begun and is not finished: it runs, is paused or is blocked.</param>
/// <param name="NotClean">The zones that were worked in and whose clean-down is not done.</param>
/// <param name="Stops">The stops of the night that no lead has lifted.</param>
public sealed record NightRemains(
    IReadOnlyList<string> Inside, IReadOnlyList<HalfSecuredTask> HalfSecured, IReadOnlyList<WorkStatus> Unfinished,
    IReadOnlyList<Zone> NotClean, IReadOnlyList<WorkStopped> Stops)
{
    /// <param name="night">The id of a night of the week.</param>
    public static NightRemains Of(StoreWeek week, string night) => new(
        NightRecord.Of(week, night).Inside, HalfSecuredTask.Of(week),
        [.. week.ReportedWork.Statuses.Where(status =>
            status is { State: WorkState.Running } or { State: WorkState.Blocked, From: not null } or { Paused: true })],
        [.. week.Week.Store.Zones.Where(zone => zone.CleanDown is not null && WasWorkedIn(week, zone.Id, night)
            && week.ReportedWork.StatusOf(WorkKey.CleanDownOf(zone.Id, night))?.State != WorkState.Done)],
        [.. week.StandingStops.Where(stop => stop.Night == night)]);

    /// <summary>The zones in which customers could be hurt in the morning: those of a stop.</summary>
    public IEnumerable<string> StoppedZones(StoreWeek week) => week.Week.Store.Zones.Select(zone => zone.Id)
        .Where(zone => Stops.Any(stop => (stop.Zone ?? zone) == zone));

    private static bool WasWorkedIn(StoreWeek week, string zone, string night)
    {
        var tasks = week.Week.Tasks.Where(task => task.Zone == zone).Select(task => task.Id).ToHashSet();
        return week.ReportedWork.Reports.Where(work => work.Key.Task is { } task && tasks.Contains(task))
            .SelectMany(work => work.Value).Any(report => NightOf(report) == night);
    }

    private static string? NightOf(IWorkReport report) => report switch
    {
        WorkStarted started => started.Night,
        WorkFinished finished => finished.Night,
        WorkResumed resumed => resumed.Night,
        _ => null,
    };
}
