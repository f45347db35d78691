using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>
/// Propagation at the root, without a solver and within milliseconds: time windows of shifts and stints, displays that cannot be
/// placed, and bounds on leftOut, nights and finish. It may prove the week infeasible. Sound: a week that has a valid plan is
/// never found infeasible.
/// </summary>
internal sealed class RootPropagation
{
    private readonly Problem problem;
    private readonly EnergeticReasoning energeticReasoning;

    private RootPropagation(Problem problem)
    {
        this.problem = problem;
        ShiftWindows = new CrewShiftWindows(problem);
        StartDomains = new StartDomains(problem, ShiftWindows);
        Windows = new StintWindowPropagation(problem, StartDomains);
        HallSets = new HallSets(problem);
        energeticReasoning = new EnergeticReasoning(problem, ShiftWindows, StartDomains, Windows, HallSets).Propagate();
    }

    public static RootPropagation Of(Problem problem) => new(problem);

    public CrewShiftWindows ShiftWindows { get; }
    public StartDomains StartDomains { get; }
    public StintWindowPropagation Windows { get; }
    public HallSets HallSets { get; }
    public EnergeticReasoning.CapacityShortage? Shortage => energeticReasoning.FoundShortage;

    /// <summary>The week has no valid plan.</summary>
    public bool Infeasible => Windows.Placement.Contradiction is not null || energeticReasoning.FoundShortage is not null;

    /// <summary>Lower bound on a goal over all valid plans, whatever the other goals are; 0 where none is known.</summary>
    public long Bound(GoalId goal) => goal switch
    {
        GoalId.LeftOut => Windows.Placement.MinLeftOutValue,
        GoalId.Nights => Math.Max(energeticReasoning.NightBound,
            CertainStints.Select(stint => Windows.FirstNight(stint.Index) + 1).DefaultIfEmpty(0).Max()),
        GoalId.Finish => Math.Max(energeticReasoning.FinishBound,
            CertainStints.Select(EarliestCompletion).DefaultIfEmpty(0).Max()),
        GoalId.Hold or GoalId.Reserve or GoalId.Bare or GoalId.Cost or GoalId.Shifts or GoalId.Handovers or GoalId.Moves
            or GoalId.Uneven or GoalId.Changes or GoalId.Shuffled => 0,
    };

    /// <summary>Stints that are in every valid plan.</summary>
    private IEnumerable<Stint> CertainStints =>
        problem.Stints.Where(stint => Windows.Placement.AlwaysPlaced(stint.Task.Display));

    /// <summary>The required clean-down counts as work, so it is included.</summary>
    private int EarliestCompletion(Stint stint) => Windows.EarliestEnd(stint.Index) + problem.CleanDownMinutesAfter(stint.Task);
}
