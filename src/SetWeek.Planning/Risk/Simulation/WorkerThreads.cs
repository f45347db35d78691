using SetWeek.Planning.Search;

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
        var fault = new ThreadFault();
        Thread[] threads = [.. Enumerable.Range(1, Math.Max(0, Math.Min(workers, count) - 1)).Select(_ => new Thread(Work))];
        foreach (var thread in threads) thread.Start();
        Work();
        foreach (var thread in threads) thread.Join();
        fault.Rethrow();

        IEnumerable<int> Mine()
        {
            for (var item = Interlocked.Increment(ref next); item < count && !fault.Occurred;
                item = Interlocked.Increment(ref next))
            {
                stop.ThrowIfCancellationRequested();
                yield return item;
            }
        }

        void Work() => fault.Guard(() => work(Mine()));
    }
}
