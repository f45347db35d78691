using SetWeek.Model.Weeks;
using SetWeek.Model.Checking;
using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Planning.Explaining.Slack;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Replanning;

/// <summary>A kind of option being looked for: its own problem, and the best plan for it so far.</summary>
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
        problem = ReferenceEquals(specification.Week, originalProblem.Week) ? originalProblem : Problem.Of(specification.Week, originalProblem.Replan);
        incumbent = new Incumbent(problem, (schedule, values) =>
        {
            Option = OptionOf(schedule, values);
            changed();
            if (incumbent!.GapClosed) cancellation?.Cancel();
        });
    }

    public string Id { get; }

    /// <summary>The best so far.</summary>
    public Option? Option { get; private set; }

    public bool HasOption => Option is not null;

    /// <summary>There is no such plan.</summary>
    public bool Infeasible { get; private set; }

    public void Search(Budget budget, double limit)
    {
        if (limit <= 0 || budget.Spent || Infeasible || (HasOption && incumbent.GapClosed)) return;
        using var end = CancellationTokenSource.CreateLinkedTokenSource(budget.Stop);
        cancellation = end;
        var part = new Budget(budget.ChildLimits(limit), end.Token);
        Infeasible = Planner.Search(problem, incumbent, part, end.Cancel);
        cancellation = null;
        budget.Charge(part.Used);
    }

    /// <summary>Another's plan is one for this too, where it keeps this one's rules.</summary>
    public void AdoptFrom(OptionSubproblem other)
    {
        if (other.incumbent.Best is { } plan) incumbent.Offer(plan);
    }

    /// <summary>True where there is a plan by now.</summary>
    public bool Adopt(Problem source, Plan plan)
    {
        if (plan.Nights.Count > 0) incumbent.Offer(PlanConverter.ScheduleOf(source, plan));
        return HasOption;
    }

    private Option OptionOf(Schedule schedule, long[] values)
    {
        var plan = PlanBuilder.FromSchedule(problem, schedule, values, incumbent.Bounds()) with { Tight = TightRules.Of(problem, schedule) };
        // Of the plans of the week at large nothing is proven by it.
        if (specification.AddsRules)
            plan = plan with { Status = PlanStatus.Feasible, Goals = [.. plan.Goals.Select(goal => goal with { Bound = null })] };
        return new Option(Id, specification.Name, specification.Sentence, plan,
            [.. comparedGoals.Select(goal => new OptionCost(goal, AllGoals.Of(goal).Measure(originalProblem, schedule)))]);
    }
}
