using System.Runtime.ExceptionServices;

namespace SetWeek.Planning.Risk.Simulation;

/// <summary>
/// Runs work on dedicated threads, because the thread pool must stay free for requests.
/// </summary>
internal static class WorkerThreads
{
    /// <param name="count">The number of items, numbered from 0.</param>
    /// <param name="workers">The number of threads, including the caller's.</param>
    /// <param name="stop">Checked before each item.</param>
    /// <param name="work">Called once on each thread with a lazy sequence of the items that the thread takes.</param>
    /// <exception cref="OperationCanceledException">The work was stopped.</exception>
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
            for (var item = Interlocked.Increment(ref next); item < count && fault is null;
                item = Interlocked.Increment(ref next))
            {
                stop.ThrowIfCancellationRequested();
                yield return item;
            }
        }

        // An unhandled exception on a dedicated thread would end the process.
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
