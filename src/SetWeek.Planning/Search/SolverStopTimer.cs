using Google.OrTools.Sat;

namespace SetWeek.Planning.Search;

/// <summary>
/// Polls a condition and stops the solver once it holds. The stop is repeated, because the solver ignores one that arrives
/// before its search has begun.
/// </summary>
/// <param name="stop">Stops the solver, which must outlive this timer.</param>
/// <param name="shouldStop">Whether to stop the solver. Called every 20 ms from a thread of the thread pool.</param>
/// <param name="clock">Measures the 20 ms.</param>
internal sealed class SolverStopTimer(Action stop, Func<bool> shouldStop, TimeProvider clock) : IDisposable
{
    private static readonly TimeSpan PollInterval = TimeSpan.FromMilliseconds(20);

    private readonly ITimer timer =
        clock.CreateTimer(_ => { if (shouldStop()) stop(); }, null, PollInterval, PollInterval);

    /// <param name="solver">Must outlive this timer.</param>
    /// <param name="shouldStop">Whether to stop the solver. Called every 20 ms from a thread of the thread pool.</param>
    /// <param name="clock">Measures the 20 ms.</param>
    public SolverStopTimer(CpSolver solver, Func<bool> shouldStop, TimeProvider clock)
        : this(() => Stop(solver), shouldStop, clock)
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
    public void Dispose() => timer.DisposeAsync().AsTask().GetAwaiter().GetResult();
}
