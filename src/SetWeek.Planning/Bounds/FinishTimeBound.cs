using SetWeek.Model.Problems;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Master;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Bounds;

/// <summary>
/// How soon all can be done, asked for one minute and another: is there a plan of the week that is over by then? First the
/// certificates alone are asked, which takes no time worth mentioning; then the night master, from the ends of nights on.
/// </summary>
internal sealed class FinishTimeBound(Problem problem, Incumbent incumbent, int goal)
{
    /// <summary>Minutes within which it is not asked more exactly.</summary>
    private const int PrecisionMinutes = 10;

    /// <summary>Of what is left, the share for one question to the night master.</summary>
    private const double ShareForOneProbe = 0.4;

    /// <param name="caps">What the goals above are held to.</param>
    /// <param name="budget">What may be used.</param>
    /// <param name="allowance">Seconds, or units of effort, for all questions together.</param>
    public void Raise(long[] caps, Budget budget, double allowance)
    {
        var end = budget.Remaining - allowance;
        foreach (var thorough in (bool[])[false, true])
        {
            var (least, possible) = (incumbent.Bounds()[goal], incumbent.Values![goal]);
            while (possible - least > PrecisionMinutes && !budget.Spent && budget.Remaining > end)
            {
                // The day between two nights holds no work: its middle is the end of the night before.
                var minute = EndOfNightBefore((int)((least + possible) / 2));
                if (minute < least || minute >= possible) minute = (int)((least + possible) / 2);
                if (ProbeFinish(minute, caps, thorough, budget, (budget.Remaining - end) * ShareForOneProbe) is not { } over) possible = minute;
                else
                {
                    incumbent.RecordBound(caps, over + 1);
                    least = Math.Max(over + 1, NextOpening(over + 1));
                }
            }
        }
    }

    /// <summary>The end of the night before, for a minute of the day; else the minute.</summary>
    private int EndOfNightBefore(int minute) => problem.Nights.Any(night => night.Opens <= minute && minute <= night.Closes) ? minute
        : problem.Nights.Where(night => night.Closes <= minute).Select(night => night.Closes).DefaultIfEmpty(minute).Max();

    /// <summary>The next night's opening, for a minute of the day; else the minute.</summary>
    private int NextOpening(int minute) => problem.Nights.Any(night => night.Opens <= minute && minute <= night.Closes) ? minute
        : problem.Nights.Where(night => night.Opens > minute).Select(night => night.Opens).DefaultIfEmpty(minute).Min();

    /// <summary>
    /// A minute, that or somewhat later, by which no plan with the goals above within their caps is done; null: none is known.
    /// </summary>
    private int? ProbeFinish(int minute, long[] caps, bool useMaster, Budget budget, double allowance)
    {
        var shorter = Problem.Of(TruncatedWeek.AtMinute(problem.Week, problem, minute));
        var known = RootPropagation.Of(shorter);
        if (known.Infeasible || caps.Where((cap, above) => known.Bound(problem.Goals[above].Goal) > cap).Any())
            return shorter.Launch;
        if (!useMaster) return null;
        var master = new NightMaster(shorter, known);
        for (var above = 0; above < goal; above++) master.Cap(problem.Goals[above].Goal, caps[above]);
        return new IntegerModelSolver(master.Model, budget).Minimise(new LinearExpression(), allowance, _ => { }, () => false) == SolverStatus.Infeasible
            ? shorter.Launch : null;
    }
}
