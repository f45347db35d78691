using SetWeek.Model.Checking;
using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Planning.Explaining.Slack;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Replanning;

/// <summary>A kind of option being looked for: its own problem, and the best plan for it so far.</summary>
internal sealed class OptionWay
{
    private readonly Direction direction;
    private readonly Problem asked, problem;
    private readonly string[] columns;
    private readonly Incumbent incumbent;
    private CancellationTokenSource? ending;

    public OptionWay(IOptionKind kind, Situation situation, string[] columns, Action changed)
    {
        Id = kind.Id;
        this.columns = columns;
        asked = situation.Problem;
        direction = kind.For(situation)!;
        problem = ReferenceEquals(direction.Week, asked.Week) ? asked : Problem.Of(direction.Week, asked.Replan);
        incumbent = new Incumbent(problem, (schedule, values) =>
        {
            Option = OptionOf(schedule, values);
            changed();
            if (incumbent!.Closed) ending?.Cancel();
        });
    }

    public string Id { get; }

    /// <summary>The best so far.</summary>
    public Option? Option { get; private set; }

    public bool Found => Option is not null;

    /// <summary>There is no such plan.</summary>
    public bool Impossible { get; private set; }

    public void Look(Budget budget, double most)
    {
        if (most <= 0 || budget.Spent || Impossible || (Found && incumbent.Closed)) return;
        using var end = CancellationTokenSource.CreateLinkedTokenSource(budget.Stop);
        ending = end;
        var part = new Budget(budget.LimitsOf(most), end.Token);
        Impossible = Planner.Search(problem, incumbent, part, end.Cancel);
        ending = null;
        budget.Use(part.Used);
    }

    /// <summary>Another's plan is one for this too, where it keeps this one's rules.</summary>
    public void LearnFrom(OptionWay other)
    {
        if (other.incumbent.Best is { } plan) incumbent.Offer(plan);
    }

    /// <summary>True where there is a plan by now.</summary>
    public bool Learn(Problem of, Plan plan)
    {
        if (plan.Nights.Count > 0) incumbent.Offer(PlanTimes.ScheduleOf(of, plan));
        return Found;
    }

    private Option OptionOf(Schedule schedule, long[] values)
    {
        var plan = Answer.Of(problem, schedule, values, incumbent.Bounds()) with { Tight = NoSlack.Of(problem, schedule) };
        // Of the plans of the week at large nothing is proven by it.
        if (direction.Narrower)
            plan = plan with { Status = PlanStatus.Feasible, Goals = [.. plan.Goals.Select(goal => goal with { Bound = null })] };
        return new Option(Id, direction.Name, direction.Sentence, plan,
            [.. columns.Select(goal => new OptionCost(goal, AllGoals.Named(goal).Measure(asked, schedule)))]);
    }
}
