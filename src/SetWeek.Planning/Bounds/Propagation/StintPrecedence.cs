using SetWeek.Model.Problems;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>To does not start before From has ended and Lag minutes have gone by; SameNight: nor in another night.</summary>
internal readonly record struct StintPrecedence(int Predecessor, int Successor, int Lag, bool SameNight)
{
    /// <summary>
    /// Between stints: the order within a task (whole), after with its drying and same-night, a closed zone (work of the
    /// zone that comes after a closing task waits it out), and last. Those among begun work are left out: facts bind nothing.
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
                    yield return new(LastOf(before), task.FirstStint + stint, lag,
                        precedence.SameNight && !NightIsOver(problem, LastOf(before)));
            }
        if (problem.LastTask is { } last)
            foreach (var task in problem.Tasks.Where(task => task != last))
                yield return new(LastOf(task), last.FirstStint, task.Zone == last.Zone ? task.ClosesZoneMinutes : 0, false);
    }

    private static int LastOf(IndexedTask task) => task.FirstStint + task.StintCount - 1;

    /// <summary>Same-night lapses once the night of the work that it clings to is over.</summary>
    private static bool NightIsOver(Problem problem, int stint) =>
        problem.Facts is { } facts && facts.BegunWork[stint] is { } work && problem.Nights[work.Night].Closes <= facts.Now;
}
