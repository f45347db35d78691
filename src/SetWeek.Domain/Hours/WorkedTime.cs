using NodaTime;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Hours;

/// <summary>
/// How long people worked, as far as the floor has reported it: from each start or resumption of work to the pause, block or
/// finish after it. Work that still runs, or whose start nobody reported, does not count. Nothing is guessed from the plan.
/// </summary>
internal static class WorkedTime
{
    private sealed record Stretch(string Person, string Night, Instant From, Instant To);

    /// <summary>Whole minutes by person and night. What a person did in parallel counts once.</summary>
    public static IReadOnlyDictionary<(string Person, string Night), int> Minutes(StoreWeek week, Plan published) =>
        week.ReportedWork.Reports.SelectMany(work => StretchesOf(week, published, work.Key, work.Value))
            .GroupBy(stretch => (stretch.Person, stretch.Night)).ToDictionary(stretches => stretches.Key, Union);

    private static IEnumerable<Stretch> StretchesOf(
        StoreWeek week, Plan published, WorkKey work, IEnumerable<IWorkReport> reports)
    {
        WorkStatus? before = null;
        foreach (var status in WorkStatus.Each(work, reports))
        {
            if (before is { State: WorkState.Running, From: { } from } && status.State != WorkState.Running)
                foreach (var person in status.People ?? PlannedPeople(published, work))
                    yield return new Stretch(
                        person, work.Night ?? NearestNight(week, from.ToInstant()), from.ToInstant(), status.Since);
            before = status;
        }
    }

    private static int Union(IEnumerable<Stretch> stretches)
    {
        var (worked, until) = (Duration.Zero, Instant.MinValue);
        foreach (var stretch in stretches.OrderBy(stretch => stretch.From).Where(stretch => stretch.To > stretch.From))
        {
            if (stretch.To <= until) continue;
            worked += stretch.To - Instant.Max(stretch.From, until);
            until = stretch.To;
        }
        return (int)worked.TotalMinutes;
    }

    private static IEnumerable<string> PlannedPeople(Plan published, WorkKey work) => published.Nights
        .SelectMany(night => night.Work.Select(planned => (night.Night, Work: planned)))
        .Where(planned => work.Task is { } task ? planned.Work.Task == task && planned.Work.Stint == work.Stint
            : planned.Work.CleanDown == work.CleanDown && planned.Night == work.Night)
        .SelectMany(planned => planned.Work.People.Select(person => person.Person)).Distinct();

    /// <summary>People begin some minutes before a night opens or after it has closed.</summary>
    private static string NearestNight(StoreWeek week, Instant time) => week.Week.Nights.MinBy(night =>
        Duration.Max(Duration.Zero, Duration.Max(StoreTime.InstantOf(week, night.Opens) - time,
            time - StoreTime.InstantOf(week, night.Closes))))!.Id;
}
