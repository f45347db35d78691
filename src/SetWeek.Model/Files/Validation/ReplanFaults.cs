using SetWeek.Model.Json;
using SetWeek.Model.Plans;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Validation;

/// <summary>
/// Finds reports that contradict the week, the published plan or the current time. A changed zone of a begun task is not
/// found, because a plan does not contain the zones of its tasks.
/// </summary>
internal static class ReplanFaults
{
    public static IEnumerable<Fault> Of(Week week, Replan replan)
    {
        var known = new WeekIds(week);
        var tasks = week.Tasks.ToDictionary(task => task.Id);
        var grid = new Grid(week.Store.TimeZone, replan.Now, 1);
        var planned = new PublishedWork(replan.Published);
        var seen = new Dictionary<(string?, int, string?, string?), int>();

        foreach (var (index, report) in replan.Progress.Index())
        {
            var at = $"/{index}";
            IEnumerable<Fault?> found =
            [
                known.Tasks.UnknownIdFault($"{at}/task", report.Task),
                .. TimesFaults(at, report, grid),
                .. report.People.Index().Select(person => known.Crew.UnknownIdFault($"{at}/people/{person.Index}", person.Item)),
                .. report.CleanDown is null ? [] : CleanDownFaults(at, report, planned, known),
                .. report.Task is { } id && tasks.TryGetValue(id, out var task)
                    ? WorkFaults(at, report, task, planned, known, grid) : [],
            ];
            foreach (var fault in found.OfType<Fault>()) yield return fault;
            if (!seen.TryAdd((report.Task, report.Stint, report.Night, report.CleanDown), index))
                yield return new Fault(at, $"This work is already reported at "
                    + $"/{seen[(report.Task, report.Stint, report.Night, report.CleanDown)]}. Keep only the more recent report.");
        }
    }

    private static IEnumerable<Fault?> TimesFaults(string at, ProgressReport report, Grid grid)
    {
        if (report.State == WorkState.Running && report.From is null)
            yield return new Fault($"{at}/from", "Running work needs the time at which it began; give it in the field “from”.");
        if (report is { From: { } from, State: not WorkState.Reopened } && from != default && grid.MinuteOf(from) >= 0)
            yield return new Fault($"{at}/from",
                $"The work is reported to begin at {TimePatterns.Write(from)}, which is not before now; correct the time, give a "
                + "later now, or leave the report out.");
        if (report is { From: { } begins, To: { } ends } && begins != default && ends != default
            && ends.ToInstant() < begins.ToInstant())
            yield return new Fault($"{at}/to", "The work ends before it begins; check both times.");
        if (report is { State: WorkState.Done, To: { } done } && done != default && grid.MinuteOf(done) > 0)
            yield return new Fault($"{at}/to",
                "Done work must have ended by now; correct the time, or set the state to running.");
        if (report is { Until: not null, State: not WorkState.Blocked })
            yield return new Fault($"{at}/until",
                "Only blocked work can have until; remove it, or set the state to blocked.");
        if (report is { RemainingMinutes: not null, State: not (WorkState.Running or WorkState.Blocked) })
            yield return new Fault($"{at}/remainingMinutes",
                "Only running or blocked work can have remainingMinutes; remove it, or correct the state.");
    }

    private static IEnumerable<Fault?> CleanDownFaults(string at, ProgressReport report, PublishedWork planned, WeekIds known)
    {
        Fault?[] unknown = [known.Nights.UnknownIdFault($"{at}/night", report.Night),
            known.Zones.UnknownIdFault($"{at}/cleanDown", report.CleanDown)];
        foreach (var fault in unknown) yield return fault;
        if (report.State is WorkState.Blocked or WorkState.Reopened)
            yield return new Fault($"{at}/state",
                "A clean-down can only be done or running; correct the state, or leave the report out if it has not begun.");
        else if (unknown is [null, null] && planned.CleanDown(report.Night!, report.CleanDown!) is null)
            yield return new Fault(at, "The published plan has no clean-down of this zone in this night; report only what "
                + "was planned.");
    }

    private static IEnumerable<Fault?> WorkFaults(string at, ProgressReport report, WeekTask task, PublishedWork planned,
        WeekIds known, Grid grid)
    {
        if (report.Stint > task.Stints)
        {
            yield return new Fault($"{at}/stint",
                $"{QuotedInput.Of(task.Id)} has {task.Stints} stints; give a stint number from 1 to {task.Stints}. Once work "
                + "has begun, its number of stints must not change.");
            yield break;
        }
        if (report is { State: WorkState.Blocked, From: null }) yield break;
        if (planned.Stint(task.Id, report.Stint) is not { } work)
        {
            yield return new Fault(at,
                $"The published plan has no stint {report.Stint} of {QuotedInput.Of(task.Id)}; report only "
                + "work that was planned.");
            yield break;
        }
        if (planned.NightOf(task.Id, report.Stint) is { } night && !known.Nights.Has(night))
        {
            yield return new Fault($"{at}/task",
                $"Work on {QuotedInput.Of(task.Id)} began in night {QuotedInput.Of(night)}, which the week no longer has; keep "
                + "the night.");
            yield break;
        }
        if (report is { State: WorkState.Done, From: null } && grid.MinuteOf(work.From) >= 0)
            yield return new Fault($"{at}/from",
                "The published plan has this work at a later time. Enter its actual start and end as from and to.");
        if (planned.StintCountOf(task.Id) is var stints && stints != task.Stints)
            yield return new Fault($"{at}/task",
                $"{QuotedInput.Of(task.Id)} was planned in {stints} stints and now has {task.Stints}. Once work has begun, "
                + "its number of stints must not change.");
        if (work.Mode >= task.Modes.Count || !SameSkills(work, task.Modes[work.Mode!.Value]))
            yield return new Fault($"{at}/task",
                $"Work on {QuotedInput.Of(task.Id)} began in mode {work.Mode}, but that mode was removed or now needs "
                + "other skills; the mode of work that has begun must stay the same.");
        if (report.State == WorkState.Reopened) yield break;
        foreach (var assigned in work.People)
            if (!known.Crew.Has(assigned.Person))
                yield return new Fault($"{at}/task",
                    $"{QuotedInput.Of(assigned.Person)} is on this work, which has begun, but is no longer in the crew; keep the "
                    + "person in the crew, without availability.");
    }

    private static bool SameSkills(PlannedWork work, Mode mode) =>
        work.People.Select(assigned => assigned.Skill).Order().SequenceEqual(
            mode.Roles.SelectMany(role => Enumerable.Repeat(role.Skill, role.People)).Order());
}
