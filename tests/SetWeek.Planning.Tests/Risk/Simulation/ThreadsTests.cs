using SetWeek.Planning.Risk.Simulation;

namespace SetWeek.Planning.Tests.Risk.Simulation;

public sealed class ThreadsTests
{
    [Theory, InlineData(0, 2), InlineData(1, 4), InlineData(1000, 1), InlineData(1000, 3)]
    public void Every_piece_falls_to_one_thread_and_none_of_them_is_the_pools(int count, int workers)
    {
        var (seen, onPool) = (new int[count], false);
        var caller = Environment.CurrentManagedThreadId;
        WorkerThreads.ForEach(count, workers, default, mine =>
        {
            if (Environment.CurrentManagedThreadId != caller) onPool |= Thread.CurrentThread.IsThreadPoolThread;
            foreach (var piece in mine) Interlocked.Increment(ref seen[piece]);
        });
        Assert.All(seen, times => Assert.Equal(1, times));
        Assert.False(onPool);
    }

    [Fact]
    public void A_fault_on_any_thread_comes_out_and_ends_the_others()
    {
        var done = 0;
        Assert.Throws<InvalidDataException>(() => WorkerThreads.ForEach(1_000_000, 3, default, mine =>
        {
            foreach (var piece in mine)
                if (piece == 10) throw new InvalidDataException();
                else Interlocked.Increment(ref done);
        }));
        Assert.True(done < 999_999);
    }

    [Fact]
    public void It_stops_when_it_is_told() => Assert.ThrowsAny<OperationCanceledException>(() =>
        WorkerThreads.ForEach(10, 2, new CancellationToken(canceled: true), mine => Assert.Empty(mine)));
}
