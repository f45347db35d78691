using SetWeek.Model.Problems;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Master;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Bounds;

/// <summary>
/// Destructive lower bound on the finish time (Klein and Scholl 1999, from memory). Bisection chooses a minute; where the week
/// truncated at that minute is infeasible, every plan finishes later. A first pass uses propagation alone, which takes
/// milliseconds. A second pass also solves the night master.
/// </summary>
internal sealed class FinishTimeBound(Problem problem, Incumbent incumbent, int goal)
{
    /// <summary>Bisection stops when bound and value are within this many minutes.</summary>
    private const int PrecisionMinutes = 10;

    /// <summary>Share of the remaining allowance that one run of the night master may use.</summary>
    private const double ShareForOneProbe = 0.4;

    /// <param name="caps">Largest value allowed of each goal above this one.</param>
    /// <param name="budget">Is charged for the work done.</param>
    /// <param name="allowance">Seconds, or units of effort, for all probes together.</param>
    public void Raise(long[] caps, Budget budget, double allowance)
    {
        var end = budget.Remaining - allowance;
        foreach (var useMaster in (bool[])[false, true])
        {
            var (lower, upper) = (incumbent.Bounds()[goal], incumbent.Values![goal]);
            while (upper - lower > PrecisionMinutes && !budget.Spent && budget.Remaining > end)
            {
                // No work lies between two nights, so a midpoint there is moved to the end of the night before.
                var minute = EndOfNightBefore((int)((lower + upper) / 2));
                if (minute < lower || minute >= upper) minute = (int)((lower + upper) / 2);
                if (ProbeFinish(minute, caps, useMaster, budget, (budget.Remaining - end) * ShareForOneProbe) is not { } refuted)
                    upper = minute;
                else
                {
                    incumbent.RecordBound(caps, refuted + 1);
                    lower = Math.Max(refuted + 1, NextOpening(refuted + 1));
                }
            }
        }
    }

    /// <summary>The minute itself where it lies in a night; otherwise the end of the night before it.</summary>
    private int EndOfNightBefore(int minute) => IsInNight(minute) ? minute
        : problem.Nights.Where(night => night.Closes <= minute).Select(night => night.Closes).DefaultIfEmpty(minute).Max();

    /// <summary>The minute itself where it lies in a night; otherwise the opening of the night after it.</summary>
    private int NextOpening(int minute) => IsInNight(minute) ? minute
        : problem.Nights.Where(night => night.Opens > minute).Select(night => night.Opens).DefaultIfEmpty(minute).Min();

    private bool IsInNight(int minute) => problem.Nights.Any(night => night.Opens <= minute && minute <= night.Closes);

    /// <summary>
    /// A minute, the given one or slightly later, by which no plan within the caps can finish; null where that is not proven.
    /// </summary>
    private int? ProbeFinish(int minute, long[] caps, bool useMaster, Budget budget, double allowance)
    {
        var truncated = Problem.Of(TruncatedWeek.AtMinute(problem.Week, problem, minute));
        var propagation = RootPropagation.Of(truncated);
        if (propagation.Infeasible || caps.Where((cap, above) => propagation.Bound(problem.Goals[above].Goal) > cap).Any())
            return truncated.Launch;
        if (!useMaster) return null;
        var master = new NightMaster(truncated, propagation);
        for (var above = 0; above < goal; above++) master.Cap(problem.Goals[above].Goal, caps[above]);
        var status = new IntegerModelSolver(master.Model, budget)
            .Minimise(new LinearExpression(), allowance, _ => { }, () => false);
        return status == IntegerModelSolver.IntegerModelStatus.Infeasible ? truncated.Launch : null;
    }
}
