using SetWeek.Service.Solving;

namespace SetWeek.Service.Tests.Solving;

public sealed class HeartbeatTests
{
    private readonly ManualClock clock = new();

    [Fact]
    public void It_is_due_a_second_after_the_last_success()
    {
        var heartbeat = new Heartbeat(clock);
        Assert.True(heartbeat.IsDue);
        heartbeat.Succeeded();
        Assert.False(heartbeat.IsDue);
        clock.Advance(TimeSpan.FromMilliseconds(900));
        Assert.False(heartbeat.IsDue);
        clock.Advance(TimeSpan.FromMilliseconds(100));
        Assert.True(heartbeat.IsDue);
    }

    [Fact]
    public void It_stays_due_after_a_failure_and_a_late_tick()
    {
        var heartbeat = new Heartbeat(clock);
        heartbeat.Succeeded();
        clock.Advance(TimeSpan.FromSeconds(6)); // a stall longer than the lease
        Assert.True(heartbeat.IsDue);
        Assert.True(heartbeat.IsDue); // the renewal failed
        heartbeat.Succeeded();
        Assert.False(heartbeat.IsDue);
    }

    private sealed class ManualClock : TimeProvider
    {
        private long ticks;

        public override long TimestampFrequency => TimeSpan.TicksPerSecond;
        public override long GetTimestamp() => ticks;
        public void Advance(TimeSpan by) => ticks += by.Ticks;
    }
}
