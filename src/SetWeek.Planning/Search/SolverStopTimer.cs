using Google.OrTools.Sat;

namespace SetWeek.Planning.Search;

/// <summary>Stops a solver when it is time, again and again: a stop that comes before it has begun is lost.</summary>
/// <param name="solver">Not disposed of before this is.</param>
/// <param name="shouldStop">Whether it is; asked every 20 ms, from any thread.</param>
internal sealed class SolverStopTimer(CpSolver solver, Func<bool> shouldStop) : IDisposable
{
    private readonly Timer timer = new(_ => { if (shouldStop()) Stop(solver); }, null, 20, 20);

    private static void Stop(CpSolver solver)
    {
        try
        {
            solver.StopSearch();
        }
        catch (NullReferenceException)
        {
            // The solver was just letting go of its search.
        }
    }

    public void Dispose()
    {
        using var idle = new ManualResetEvent(false);
        if (timer.Dispose(idle)) idle.WaitOne();
    }
}
