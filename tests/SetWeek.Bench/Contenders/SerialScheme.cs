using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Bench.Contenders;

/// <summary>
/// The serial schedule generation scheme with the latest-finish rule (Kolisch 1996): of the tasks whose predecessors stand, the
/// one whose latest finish comes first is put at the first moment at which all that it needs is free for as long as it takes.
/// For one night without rules; people are taken by a matching, those that can do least else first.
/// </summary>
internal sealed class SerialScheme(Problem problem)
{
    private readonly List<ScheduledWork> placed = [];

    public Schedule Build()
    {
        var (ends, left) = (new int[problem.Tasks.Count], problem.Tasks.ToList());
        var latest = LatestFinishes();
        while (left.Count > 0)
        {
            var next = left.Where(task => !task.Precedences.Any(precedence => left.Contains(problem.Tasks[precedence.Predecessor])))
                .MinBy(task => (latest[task.Index], task.Index))!;
            var at = next.Precedences.Select(precedence => ends[precedence.Predecessor]).DefaultIfEmpty(0).Max();
            // Room only appears where something ends.
            var moments = placed.Select(work => work.To).Where(end => end > at).Order().Prepend(at);
            var work = moments.Select(moment => At(next, moment)).First(work => work is not null)!;
            placed.Add(work);
            ends[next.Index] = work.To;
            left.Remove(next);
        }
        return LongNightPlan.Of(problem, placed);
    }

    private ScheduledWork? At(IndexedTask task, int from)
    {
        var mode = task.Modes[0];
        var span = new Span(from, from + mode.Minutes);
        var meanwhile = placed.Where(work => work.Span.Overlaps(span)).ToArray();
        foreach (var use in mode.Equipment)
            foreach (var moment in meanwhile.Select(work => Math.Max(from, work.From)).Append(from))
                if (meanwhile.Where(work => work.From <= moment && moment < work.To)
                    .Sum(work => Uses(work, use.Equipment)) + use.Count
                    > problem.EquipmentCapacities[use.Equipment]) return null;
        var free = problem.Crew.Where(person => !meanwhile.Any(work => work.Assignments.Any(assignment => assignment.Person == person.Index)))
            .OrderBy(person => person.Levels.Count(level => level > 0)).ThenBy(person => person.Index).ToArray();
        return BipartiteMatching.Of(mode, free) is { } hands ? new ScheduledWork(0, task.FirstStint, 0, task.Zone, span.From, span.To, hands) : null;
    }

    private int Uses(ScheduledWork work, int equipment) =>
        problem.ModeOf(work)!.Equipment.Where(use => use.Equipment == equipment).Sum(use => use.Count);

    /// <summary>
    /// By task: when it must have ended for the last to end by the time that all would take one after the other.
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
                    var by = latest[task.Index] - task.Modes[0].Minutes;
                    if (by >= latest[precedence.Predecessor]) continue;
                    (latest[precedence.Predecessor], changed) = (by, true);
                }
        }
        return latest;
    }
}
