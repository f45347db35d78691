using SetWeek.Model.Checking;
using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Slack;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Replanning;

/// <summary>The search for one kind of option: its problem, and its best plan so far.</summary>
internal sealed class OptionSubproblem
{
    private readonly OptionSpecification specification;
    private readonly Problem originalProblem, problem;
    private readonly GoalId[] comparedGoals;
    private readonly Incumbent incumbent;
    private CancellationTokenSource? cancellation;

    public OptionSubproblem(IOptionKind kind, ReplanSituation situation, GoalId[] comparedGoals, Action changed)
    {
        Id = kind.Id;
        this.comparedGoals = comparedGoals;
        originalProblem = situation.Problem;
        specification = kind.For(situation)!;
        problem = ReferenceEquals(specification.Week, originalProblem.Week)
            ? originalProblem : Problem.Of(specification.Week, originalProblem.Replan);
        incumbent = new Incumbent(problem, (schedule, _) =>
        {
            Option = OptionOf(schedule);
            changed();
            if (incumbent!.GapClosed) cancellation?.Cancel();
        });
    }

    public string Id { get; }

    /// <summary>The best option so far; null if there is none.</summary>
    public Option? Option { get; private set; }

    public bool HasOption => Option is not null;

    /// <summary>True if it is proven that this kind has no plan.</summary>
    public bool Infeasible { get; private set; }

    public void Search(Budget budget, double limit)
    {
        if (limit <= 0 || budget.Spent || Infeasible || (HasOption && incumbent.GapClosed)) return;
        using var linked = CancellationTokenSource.CreateLinkedTokenSource(budget.Stop);
        cancellation = linked;
        var part = new Budget(budget.ChildLimits(limit), linked.Token);
        Infeasible = Planner.Search(problem, incumbent, part, linked.Cancel);
        cancellation = null;
        budget.Charge(part.Used);
    }

    /// <summary>Takes the other's best plan if it keeps this kind's rules and is better.</summary>
    public void AdoptFrom(OptionSubproblem other)
    {
        if (other.incumbent.Best is { } plan) incumbent.Offer(plan);
    }

    /// <summary>Takes a plan if it is better. True if there is an option afterwards.</summary>
    public bool Adopt(Problem source, Plan plan)
    {
        if (plan.Nights.Count > 0) incumbent.Offer(PlanConverter.ScheduleOf(source, plan));
        return HasOption;
    }

    private Option OptionOf(Schedule schedule)
    {
        OptionCost[] costs =
            [.. comparedGoals.Select(goal => new OptionCost(goal, AllGoals.Of(goal).Measure(originalProblem, schedule)))];
        var goals = originalProblem.Goals;
        var plan = PlanBuilder.FromSchedule(originalProblem, schedule,
            [.. goals.Select(choice => costs.First(cost => cost.Goal == choice.Goal).Value)], BoundsInOrderOf(goals))
            with { Tight = TightRules.Of(problem, schedule) };
        // With added rules, bounds and optimality do not hold for the original week.
        if (specification.AddsRules)
            plan = plan with { Status = PlanStatus.Feasible, Goals = [.. plan.Goals.Select(goal => goal with { Bound = null })] };
        return new Option(Id, specification.Name, specification.Sentence, plan, costs);
    }

    /// <summary>
    /// The bounds proven for this kind that also hold in the order of the given goals, otherwise 0. A bound holds for all plans
    /// that are no worse in the goals above it, so it holds where at least those goals are above it in the other order too.
    /// </summary>
    private long[] BoundsInOrderOf(IReadOnlyList<GoalChoice> goals)
    {
        var own = incumbent.Bounds();
        GoalId[] order = [.. problem.Goals.Select(choice => choice.Goal)], other = [.. goals.Select(choice => choice.Goal)];
        return [.. other.Select((goal, index) => order[..Array.IndexOf(order, goal)].All(other[..index].Contains)
            ? own[Array.IndexOf(order, goal)] : 0)];
    }
}
