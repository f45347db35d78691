using System.Diagnostics;
using System.Globalization;

namespace SetWeek.Planning.Search;

/// <summary>
/// What is left to search with: seconds of the clock or, where the limits name an effort, deterministic units (about a
/// second of one core each) that the search itself counts, so that the same input gives the same plan on any machine.
/// </summary>
internal sealed class Budget(SearchLimits limits, CancellationToken stop)
{
    /// <summary>
    /// The solver would take Ctrl-C for itself, and with several solves under way it aborts the process on one; ours arrives as
    /// <see cref="Stop"/>.
    /// </summary>
    private const string NoSignalHandler = "catch_sigint_signal:false";

    private readonly long started = Stopwatch.GetTimestamp();
    private double used;

    public bool Deterministic => limits.Effort is not null;
    public int Workers => Deterministic ? 1 : limits.Workers;
    public int Seed => limits.Seed;
    public CancellationToken Stop => stop;
    public TimeSpan Elapsed => Stopwatch.GetElapsedTime(started);

    /// <summary>Seconds, or units of effort.</summary>
    public double Remaining => limits.Effort is { } effort ? effort - used : (limits.Time - Elapsed).TotalSeconds;

    /// <summary>What there was to begin with, in seconds or units.</summary>
    public double Total => limits.Effort ?? limits.Time.TotalSeconds;

    /// <summary>Of all that there was, how much is gone: 0 to 1.</summary>
    public double SpentShare => limits.Effort is { } effort ? used / effort : Elapsed / limits.Time;

    public bool Spent => stop.IsCancellationRequested || Remaining <= 0;

    /// <summary>Says that work was done; only effort counts it.</summary>
    public void Charge(double units) => used += units;

    /// <summary>Effort counted so far.</summary>
    public double Used => used;

    /// <summary>
    /// A budget of its own for one part of the search: at most so many seconds, or units, of what is left. What it uses is said
    /// back. A share of what was left a moment ago may be less than nothing by now: it is nothing then.
    /// </summary>
    public Budget CreateChild(double allowance, int? workers = null) =>
        new(ChildLimits(allowance) with { Workers = workers ?? limits.Workers }, stop);

    /// <summary>The same as limits, for whoever has a budget of their own.</summary>
    public SearchLimits ChildLimits(double allowance) => limits with
    {
        Time = TimeSpan.FromSeconds(Math.Clamp(Remaining, 0, Math.Max(0, allowance))),
        Effort = Deterministic ? Math.Clamp(Remaining, 0, Math.Max(0, allowance)) : null,
    };

    /// <summary>So much, whatever is left: for a question asked after the search, which ends with a token of its own.</summary>
    public Budget CreateIndependent(double allowance, CancellationToken stop, int seedOffset = 0) => new(limits with
    {
        Seed = limits.Seed + seedOffset,
        Time = TimeSpan.FromSeconds(allowance), Effort = Deterministic ? allowance : null, Workers = 1,
    }, stop);

    /// <summary>Parameters for one CP-SAT call that may take at most so many seconds, or units, of what is left.</summary>
    public string SatParameters(double allowance, int workers)
    {
        var limit = Math.Max(0.001, Math.Min(allowance, Remaining)).ToString(CultureInfo.InvariantCulture);
        return Deterministic
            ? $"max_deterministic_time:{limit} num_workers:1 random_seed:{Seed} {NoSignalHandler}"
            : $"max_time_in_seconds:{limit} num_workers:{workers} random_seed:{Seed} {NoSignalHandler}";
    }
}
