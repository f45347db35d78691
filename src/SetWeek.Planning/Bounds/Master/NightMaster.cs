using SetWeek.Model.Problems;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Propagation;

namespace SetWeek.Planning.Bounds.Master;

/// <summary>
/// The week as nights: what is done in which night and who is on for how long, without times inside a night. Every valid
/// plan is a solution of its rows (each says why), so the least of a goal over them is a bound.
/// </summary>
internal sealed class NightMaster
{
    private readonly GoalSums goals;
    private readonly Dictionary<string, (Sum Sum, long Divisor)> asked = [];

    public NightMaster(Problem problem, Certificates known)
    {
        Rows = new RowModel();
        Work = new NightWork(problem, known, Rows);
        Crew = new NightCrew(problem, known.Crew, Rows);
        new NightRows(problem, known, Rows, Work, Crew).Post();
        new NightApart(problem, known, Rows, Work).Post();
        new NightEnd(problem, known, Rows, Work, Crew).Post();
        Standing = Rows.Rows.Count;
        goals = new GoalSums(problem, known, Rows, Work, Crew);
    }

    public RowModel Rows { get; }

    /// <summary>So many of the first rows hold for every valid plan, whatever is asked of its goals.</summary>
    public int Standing { get; }

    public NightWork Work { get; }
    public NightCrew Crew { get; }

    /// <summary>
    /// The sum's least, divided by the divisor and rounded up, bounds the goal. Posted once, however often it is asked.
    /// </summary>
    public (Sum Sum, long Divisor) Goal(string id) => asked.TryGetValue(id, out var known) ? known : asked[id] = goals.Of(id);

    /// <summary>Asks that a goal come to no more than so much.</summary>
    public void Cap(string id, long most)
    {
        var (sum, divisor) = Goal(id);
        if (most < long.MaxValue / divisor / 2) Rows.NotPositive(new Sum().And(sum).And(-most * divisor));
    }
}
