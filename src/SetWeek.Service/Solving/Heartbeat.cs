namespace SetWeek.Service.Solving;

/// <summary>
/// Says when claims are to be renewed: a second after the last success. So the first poll after a failure or a stall renews them,
/// and not only every tenth one.
/// </summary>
public sealed class Heartbeat(TimeProvider clock)
{
    private static readonly TimeSpan Interval = TimeSpan.FromSeconds(1);

    private long? lastSuccess;

    public bool IsDue => lastSuccess is not { } last || clock.GetElapsedTime(last) >= Interval;

    public void Succeeded() => lastSuccess = clock.GetTimestamp();
}
