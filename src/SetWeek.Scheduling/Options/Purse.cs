using System.Diagnostics;

namespace SetWeek.Scheduling.Options;

/// <summary>What is left for all options together: seconds, or units of effort.</summary>
internal sealed class Purse(Limits limits, CancellationToken stop)
{
    private readonly long started = Stopwatch.GetTimestamp();
    private double used;

    public CancellationToken Stop => stop;
    public TimeSpan Elapsed => Stopwatch.GetElapsedTime(started);
    public double All => limits.Effort ?? limits.Time.TotalSeconds;
    public double Left => stop.IsCancellationRequested ? 0 : limits.Effort is { } effort ? effort - used : (limits.Time - Elapsed).TotalSeconds;
    public Limits Rest => Of(Left);

    public Limits Of(double most) => limits with
    {
        Time = TimeSpan.FromSeconds(Math.Clamp(most, 0, Math.Max(0, Left))),
        Effort = limits.Effort is null ? null : Math.Clamp(most, 0, Math.Max(0, Left)),
    };

    /// <summary>Only effort is counted; the clock counts itself.</summary>
    public void Use(double units) => used += units;
}
