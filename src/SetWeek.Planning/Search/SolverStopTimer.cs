using Google.OrTools.Sat;

namespace SetWeek.Planning.Search;

/// <summary>
/// Polls a condition and stops the solver once it holds. The stop is repeated, because the solver ignores one that arrives
/// before its search has begun.
/// </summary>
/// <param name="stop">Stops the solver, which must outlive this timer.</param>
/// <param name="shouldStop">Whether to stop the solver. Called every 20 ms from a thread of the thread pool.</param>
internal sealed class SolverStopTimer(Action stop, Func<bool> shouldStop) : IDisposable
{
    private const int PollMilliseconds = 20;

    private readonly Timer timer = new(_ => { if (shouldStop()) stop(); }, null, PollMilliseconds, PollMilliseconds);

    /// <param name="solver">Must outlive this timer.</param>
    /// <param name="shouldStop">Whether to stop the solver. Called every 20 ms from a thread of the thread pool.</param>
    public SolverStopTimer(CpSolver solver, Func<bool> shouldStop) : this(() => Stop(solver), shouldStop)
    {
    }

    private static void Stop(CpSolver solver)
    {
        try
        {
            solver.StopSearch();
        }
        catch (NullReferenceException)
        {
            // The solver has just released its native search. It has ended, so it needs no stop.
        }
    }

    /// <summary>Returns when no call of the condition is running any more.</summary>
    public void Dispose()
    {
        using var idle = new ManualResetEvent(false);
        if (timer.Dispose(idle)) idle.WaitOne();
    }
}
