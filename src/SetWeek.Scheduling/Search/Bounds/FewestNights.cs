namespace SetWeek.Scheduling.Search.Bounds;

/// <summary>
/// How many nights it takes, asked one by one: does the night master hold with no work after the k-th? Where it does not, no
/// plan whose goals above are within their caps does with k nights either. Asked so, later nights are shut from the start and the
/// question is one of room; the least of a last night over fractions of stints says next to nothing.
/// </summary>
internal sealed class FewestNights(Problem problem, Certificates known, Incumbent incumbent, int goal)
{
    /// <param name="caps">What the goals above are held to.</param>
    /// <param name="budget">What may be used.</param>
    /// <param name="most">Seconds, or units of effort, for all questions together.</param>
    public void Raise(long[] caps, Budget budget, double most)
    {
        var end = budget.Left - most;
        for (var nights = (int)incumbent.Bounds()[goal]; !Reached && budget.Left > end; nights++)
        {
            var master = new NightMaster(problem, known);
            for (var above = 0; above < goal; above++) master.Cap(problem.Goals[above].Goal, caps[above]);
            master.Cap("nights", nights);
            if (new RowSolver(master.Rows, budget).Minimise(new Sum(), budget.Left - end, _ => { }, () => Reached)
                != RowSolver.Ending.Infeasible) return;
            incumbent.Prove(caps, nights + 1);
        }
    }

    private bool Reached => incumbent.Values is { } values && incumbent.Bounds()[goal] >= values[goal];
}
