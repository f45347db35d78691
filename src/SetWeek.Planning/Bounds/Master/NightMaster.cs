using SetWeek.Model.Weeks;
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
    private readonly NightMasterGoals goals;
    private readonly Dictionary<GoalId, (LinearExpression Sum, long Divisor)> postedGoals = [];

    public NightMaster(Problem problem, RootPropagation propagation)
    {
        Model = new LinearModel();
        Work = new WorkColumns(problem, propagation, Model);
        Roster = new RosterColumns(problem, propagation.ShiftWindows, Model);
        new CapacityRows(problem, propagation, Model, Work, Roster).Post();
        new CliqueRows(problem, propagation, Model, Work).Post();
        new NightEndRows(problem, propagation, Model, Work, Roster).Post();
        PermanentRowCount = Model.Rows.Count;
        goals = new NightMasterGoals(problem, propagation, Model, Work, Roster);
    }

    public LinearModel Model { get; }

    /// <summary>So many of the first rows hold for every valid plan, whatever is asked of its goals.</summary>
    public int PermanentRowCount { get; }

    public WorkColumns Work { get; }
    public RosterColumns Roster { get; }

    /// <summary>
    /// The sum's least, divided by the divisor and rounded up, bounds the goal. Posted once, however often it is asked.
    /// </summary>
    public (LinearExpression Sum, long Divisor) Goal(GoalId id) => postedGoals.TryGetValue(id, out var known) ? known : postedGoals[id] = goals.Of(id);

    /// <summary>Asks that a goal come to no more than so much.</summary>
    public void Cap(GoalId id, long maximum)
    {
        var (sum, divisor) = Goal(id);
        if (maximum < long.MaxValue / divisor / 2) Model.AddAtMostZero(new LinearExpression().Add(sum).Add(-maximum * divisor));
    }
}
