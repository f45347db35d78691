using SetWeek.Model.Problems;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>
/// The successor starts at least Lag minutes after the predecessor ends; with SameNight, in the same night too. Stints are
/// named by index.
/// </summary>
internal readonly record struct StintPrecedence(int Predecessor, int Successor, int Lag, bool SameNight)
{
    /// <summary>
    /// All precedences between stints: the order of a task's own stints (rule whole), after with its drying and same-night,
    /// last, and zone-closed where work in the zone comes after the closing task. Begun stints are included; callers skip
    /// precedences whose successor has begun, because facts are not constrained.
    /// </summary>
    public static IEnumerable<StintPrecedence> AllOf(Problem problem)
    {
        foreach (var stint in problem.Stints.Where(stint => !stint.IsLast))
            yield return new(stint.Index, stint.Index + 1, 0, false);
        foreach (var task in problem.Tasks)
            foreach (var precedence in task.Precedences)
            {
                var before = problem.Tasks[precedence.Predecessor];
                var lag = Math.Max(precedence.LagMinutes, before.Zone == task.Zone ? before.ClosesZoneMinutes : 0);
                for (var stint = 0; stint < (precedence.SameNight ? task.StintCount : 1); stint++)
                    yield return new(before.LastStint, task.FirstStint + stint, lag,
                        precedence.SameNight && !NightIsOver(problem, before.LastStint));
            }
        if (problem.LastTask is { } last)
            foreach (var task in problem.Tasks.Where(task => task != last))
                yield return new(task.LastStint, last.FirstStint, task.Zone == last.Zone ? task.ClosesZoneMinutes : 0, false);
    }

    /// <summary>The stint has begun in a night that is over, so same-night no longer binds its successors.</summary>
    private static bool NightIsOver(Problem problem, int stint) =>
        problem.Facts is { } facts && facts.BegunWork[stint] is { } work && problem.Nights[work.Night].Closes <= facts.Now;
}
