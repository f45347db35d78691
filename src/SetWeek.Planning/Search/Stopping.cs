using Google.OrTools.Sat;

namespace SetWeek.Planning.Search;

/// <summary>Stops a solver when it is time, again and again: a stop that comes before it has begun is lost.</summary>
/// <param name="solver">Not disposed of before this is.</param>
/// <param name="time">Whether it is; asked every 20 ms, from any thread.</param>
internal sealed class Stopping(CpSolver solver, Func<bool> time) : IDisposable
{
    private readonly Timer clock = new(_ => { if (time()) Stop(solver); }, null, 20, 20);

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
        if (clock.Dispose(idle)) idle.WaitOne();
    }
}
