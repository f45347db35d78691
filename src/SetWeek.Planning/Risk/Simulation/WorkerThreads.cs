using System.Runtime.ExceptionServices;

namespace SetWeek.Planning.Risk.Simulation;

/// <summary>
/// Work shared out among threads of its own: those of the pool are for whoever has requests to answer meanwhile.
/// </summary>
internal static class WorkerThreads
{
    /// <param name="count">Pieces of work, from 0.</param>
    /// <param name="workers">Threads, that of the caller being one.</param>
    /// <param name="stop">Looked at before each piece.</param>
    /// <param name="work">Called once on each thread, with the pieces that fall to it as it goes on.</param>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public static void ForEach(int count, int workers, CancellationToken stop, Action<IEnumerable<int>> work)
    {
        var next = -1;
        ExceptionDispatchInfo? fault = null;
        Thread[] threads = [.. Enumerable.Range(1, Math.Max(0, Math.Min(workers, count) - 1)).Select(_ => new Thread(Guarded))];
        foreach (var thread in threads) thread.Start();
        Guarded();
        foreach (var thread in threads) thread.Join();
        fault?.Throw();

        IEnumerable<int> Mine()
        {
            for (var piece = Interlocked.Increment(ref next); piece < count && fault is null;
                piece = Interlocked.Increment(ref next))
            {
                stop.ThrowIfCancellationRequested();
                yield return piece;
            }
        }

        // An exception on a thread of one's own would end the process.
        void Guarded()
        {
            try
            {
                work(Mine());
            }
            catch (Exception caught)
            {
                Interlocked.CompareExchange(ref fault, ExceptionDispatchInfo.Capture(caught), null);
            }
        }
    }
}
