using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Bench.Contenders;

/// <summary>
/// The serial schedule-generation scheme with the latest-finish-time rule (Kolisch 1996). Among the tasks whose predecessors are
/// scheduled, the one with the smallest latest finish is scheduled at its earliest feasible start. For one night without rules.
/// People are assigned by a matching that prefers those with the fewest skills.
/// </summary>
internal sealed class SerialScheme(Problem problem)
{
    private readonly List<ScheduledWork> placed = [];

    public Schedule Build()
    {
        var (ends, remaining) = (new int[problem.Tasks.Count], problem.Tasks.ToList());
        var latest = LatestFinishes();
        while (remaining.Count > 0)
        {
            var next = remaining.Where(task => !task.Precedences.Any(precedence =>
                remaining.Contains(problem.Tasks[precedence.Predecessor])))
                .MinBy(task => (latest[task.Index], task.Index))!;
            var earliest = next.Precedences.Select(precedence => ends[precedence.Predecessor]).DefaultIfEmpty(0).Max();
            // Resources become free only at the end of other work.
            var candidates = placed.Select(work => work.To).Where(end => end > earliest).Order().Prepend(earliest);
            var work = candidates.Select(minute => PlacementAt(next, minute)).First(work => work is not null)!;
            placed.Add(work);
            ends[next.Index] = work.To;
            remaining.Remove(next);
        }
        return LongNightPlan.Of(problem, placed);
    }

    private ScheduledWork? PlacementAt(IndexedTask task, int from)
    {
        var mode = task.Modes[0];
        var span = new Span(from, from + mode.Minutes);
        var parallel = placed.Where(work => work.Span.Overlaps(span)).ToArray();
        foreach (var use in mode.Equipment)
            foreach (var minute in parallel.Select(work => Math.Max(from, work.From)).Append(from))
                if (parallel.Where(work => work.From <= minute && minute < work.To)
                    .Sum(work => Uses(work, use.Equipment)) + use.Count
                    > problem.EquipmentCapacities[use.Equipment]) return null;
        var free = problem.Crew
            .Where(person => !parallel.Any(work => work.Assignments.Any(assignment => assignment.Person == person.Index)))
            .OrderBy(person => person.Levels.Count(level => level > 0)).ThenBy(person => person.Index).ToArray();
        return BipartiteMatching.Of(mode, free) is { } people
            ? new ScheduledWork(0, task.FirstStint, 0, task.Zone, span.From, span.To, people) : null;
    }

    private int Uses(ScheduledWork work, int equipment) =>
        problem.ModeOf(work)!.Equipment.Where(use => use.Equipment == equipment).Sum(use => use.Count);

    /// <summary>
    /// The latest finish of each task by backward recursion from the closing of the night.
    /// </summary>
    private int[] LatestFinishes()
    {
        var latest = Enumerable.Repeat(problem.Nights[0].Closes, problem.Tasks.Count).ToArray();
        for (var changed = true; changed;)
        {
            changed = false;
            foreach (var task in problem.Tasks)
                foreach (var precedence in task.Precedences)
                {
                    var latestFinish = latest[task.Index] - task.Modes[0].Minutes;
                    if (latestFinish >= latest[precedence.Predecessor]) continue;
                    (latest[precedence.Predecessor], changed) = (latestFinish, true);
                }
        }
        return latest;
    }
}
