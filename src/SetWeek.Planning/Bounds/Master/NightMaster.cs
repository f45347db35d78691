using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Propagation;

namespace SetWeek.Planning.Bounds.Master;

/// <summary>
/// Relaxation of the week to whole nights: it assigns stints and shifts to nights and ignores times within a night. Every valid
/// plan is a solution of its rows (the classes that post them say why), so the minimum of a goal over them is a lower bound.
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

    /// <summary>The number of rows, from the first, that hold for every valid plan. Caps and goals post the later ones.</summary>
    public int PermanentRowCount { get; }

    public WorkColumns Work { get; }
    public RosterColumns Roster { get; }

    /// <summary>
    /// The goal as a sum: its minimum, divided by the divisor and rounded up, is a lower bound. Posted at the first call only.
    /// </summary>
    public (LinearExpression Sum, long Divisor) Goal(GoalId id) =>
        postedGoals.TryGetValue(id, out var known) ? known : postedGoals[id] = goals.Of(id);

    /// <summary>Adds the constraint that a goal's value is at most the maximum.</summary>
    public void Cap(GoalId id, long maximum)
    {
        var (sum, divisor) = Goal(id);
        if (maximum < long.MaxValue / divisor / 2) Model.AddAtMostZero(new LinearExpression().Add(sum).Add(-maximum * divisor));
    }
}
