using System.Globalization;

namespace SetWeek.Planning.Search;

/// <summary>
/// What remains to search with. The unit is seconds of the clock or, where the limits give an effort, deterministic units of
/// about a second of one core. The search counts those units itself, so the same input gives the same plan on any machine.
/// </summary>
/// <param name="limits">The limits of this budget.</param>
/// <param name="stop">Cancels every search that uses this budget.</param>
internal sealed class Budget(SearchLimits limits, CancellationToken stop)
{
    /// <summary>
    /// Keeps the solver from handling Ctrl-C: with several solves running its handler aborts the process. Ctrl-C reaches the
    /// search through <see cref="Stop"/>.
    /// </summary>
    private const string NoSignalHandler = "catch_sigint_signal:false";

    private readonly long started = limits.Clock.GetTimestamp();
    private double used;

    /// <summary>The budget counts effort, not time.</summary>
    public bool Deterministic => limits.Effort is not null;
    public int Workers => Deterministic ? 1 : limits.Workers;
    public int Seed => limits.Seed;
    public CancellationToken Stop => stop;

    /// <summary>The clock that limits time.</summary>
    public TimeProvider Clock => limits.Clock;

    public TimeSpan Elapsed => limits.Clock.GetElapsedTime(started);

    /// <summary>What remains, in seconds or units of effort. Negative once it is overspent.</summary>
    public double Remaining => limits.Effort is { } effort ? effort - used : (limits.Time - Elapsed).TotalSeconds;

    /// <summary>The whole budget, in seconds or units of effort.</summary>
    public double Total => limits.Effort ?? limits.Time.TotalSeconds;

    /// <summary>Share of the whole budget that is spent: 0 at the start, 1 or a little more at the end.</summary>
    public double SpentShare => limits.Effort is { } effort ? used / effort : Elapsed / limits.Time;

    public bool Spent => stop.IsCancellationRequested || Remaining <= 0;

    /// <summary>Charges work to the budget. Only an effort budget is reduced by it; time passes by itself.</summary>
    public void Charge(double units) => used += units;

    /// <summary>Units charged so far.</summary>
    public double Used => used;

    /// <summary>
    /// A budget for one part of the search. It is clamped to what remains, and to 0 from below. The caller charges its usage
    /// back with <see cref="Charge"/>.
    /// </summary>
    /// <param name="allowance">Seconds or units of effort. May be negative: time passes while a share is computed.</param>
    /// <param name="workers">Threads of the part; null: as many as here.</param>
    public Budget CreateChild(double allowance, int? workers = null) =>
        new(ChildLimits(allowance) with { Workers = workers ?? limits.Workers }, stop);

    /// <summary>The limits of <see cref="CreateChild"/>, for a callee that makes its own budget.</summary>
    public SearchLimits ChildLimits(double allowance) => limits with
    {
        Time = TimeSpan.FromSeconds(Math.Clamp(Remaining, 0, Math.Max(0, allowance))),
        Effort = Deterministic ? Math.Clamp(Remaining, 0, Math.Max(0, allowance)) : null,
    };

    /// <summary>
    /// A budget that does not depend on what remains, with one worker: for questions asked after the search, and for parts of it
    /// that can be cancelled alone.
    /// </summary>
    /// <param name="allowance">Seconds or units of effort.</param>
    /// <param name="stop">Cancels the new budget.</param>
    /// <param name="seedOffset">Added to the seed.</param>
    public Budget CreateIndependent(double allowance, CancellationToken stop, int seedOffset = 0) => new(limits with
    {
        Seed = limits.Seed + seedOffset,
        Time = TimeSpan.FromSeconds(allowance), Effort = Deterministic ? allowance : null, Workers = 1,
    }, stop);

    /// <summary>CP-SAT parameters for one solve: its limit, its threads and the seed.</summary>
    /// <param name="allowance">Seconds or units of effort at most; clamped to what remains.</param>
    /// <param name="workers">Threads of the solver; a deterministic solve uses one.</param>
    public string SatParameters(double allowance, int workers)
    {
        var limit = Math.Max(0.001, Math.Min(allowance, Remaining)).ToString(CultureInfo.InvariantCulture);
        return Deterministic
            ? $"max_deterministic_time:{limit} num_workers:1 random_seed:{Seed} {NoSignalHandler}"
            : $"max_time_in_seconds:{limit} num_workers:{workers} random_seed:{Seed} {NoSignalHandler}";
    }
}
