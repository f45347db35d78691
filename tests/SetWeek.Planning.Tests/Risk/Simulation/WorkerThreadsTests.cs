using SetWeek.Planning.Risk.Simulation;

namespace SetWeek.Planning.Tests.Risk.Simulation;

public sealed class WorkerThreadsTests
{
    [Theory, InlineData(0, 2), InlineData(1, 4), InlineData(1000, 1), InlineData(1000, 3)]
    public void Every_index_is_processed_once_outside_the_thread_pool(int count, int workers)
    {
        var (seen, onPool) = (new int[count], false);
        var caller = Environment.CurrentManagedThreadId;
        WorkerThreads.ForEach(count, workers, default, indices =>
        {
            if (Environment.CurrentManagedThreadId != caller) onPool |= Thread.CurrentThread.IsThreadPoolThread;
            foreach (var index in indices) Interlocked.Increment(ref seen[index]);
        });
        Assert.All(seen, times => Assert.Equal(1, times));
        Assert.False(onPool);
    }

    [Fact]
    public void An_exception_on_a_thread_is_rethrown_and_ends_the_others()
    {
        var done = 0;
        Assert.Throws<InvalidDataException>(() => WorkerThreads.ForEach(1_000_000, 3, default, indices =>
        {
            foreach (var index in indices)
                if (index == 10) throw new InvalidDataException();
                else Interlocked.Increment(ref done);
        }));
        Assert.True(done < 999_999);
    }

    [Fact]
    public void Cancellation_stops_all_threads() => Assert.ThrowsAny<OperationCanceledException>(() =>
        WorkerThreads.ForEach(10, 2, new CancellationToken(canceled: true), indices => Assert.Empty(indices)));
}
