using SetWeek.Model.Weeks;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Bounds.Propagation;

/// <summary>
/// What follows from a week by reasoning alone, in milliseconds and without a solver: when each stint could lie, what must
/// be left out, how many nights it takes at the least - or what makes it impossible. Never calls a week impossible that has
/// a valid plan.
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

    /// <summary>A bound for a goal over all valid plans, whatever the other goals are; 0 where reasoning says nothing.</summary>
    public long Bound(GoalId goal) => goal switch
    {
        GoalId.LeftOut => Windows.Placement.MinLeftOutValue,
        GoalId.Nights => Math.Max(CertainStints.Select(stint => Windows.FirstNight(stint.Index) + 1).DefaultIfEmpty(0).Max(), energeticReasoning.NightBound),
        GoalId.Finish => Math.Max(CertainStints.Select(EarliestCompletion).DefaultIfEmpty(0).Max(), energeticReasoning.FinishBound),
        GoalId.Reserve or GoalId.Cost or GoalId.Shifts or GoalId.Moves or GoalId.Uneven or GoalId.Changes => 0,
    };

    private IEnumerable<Stint> CertainStints => problem.Stints.Where(stint => Windows.Placement.AlwaysPlaced(stint.Task.Display));

    /// <summary>A clean-down follows in the same night, and is work as well.</summary>
    private int EarliestCompletion(Stint stint)
    {
        var down = stint.Task.IsLastTask || problem.Facts is not null ? 0 : problem.Zones[stint.Task.Zone].CleanDown?.Minutes ?? 0;
        return Windows.EarliestEnd(stint.Index) + down;
    }
}
