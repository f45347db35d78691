namespace SetWeek.Scheduling.Search.Bounds;

/// <summary>
/// Proves bounds beside the search: what the certificates say at once. Says nothing that a valid plan could contradict,
/// and stops when the budget is spent, told to, or when nothing is left to prove.
/// </summary>
internal static class Relaxation
{
    public static void Prove(Problem problem, Incumbent incumbent, Budget budget) => Prove(problem, Certificates.Of(problem), incumbent, budget);

    public static void Prove(Problem problem, Certificates certificates, Incumbent incumbent, Budget budget)
    {
        for (var goal = 0; goal < problem.Goals.Count; goal++)
            incumbent.Prove(Anything(goal), certificates.Bound(problem.Goals[goal].Goal));
    }

    /// <summary>Caps for a bound that holds whatever the goals above it come to.</summary>
    private static long[] Anything(int goal) => [.. Enumerable.Repeat(long.MaxValue, goal)];
}
