using SetWeek.Model.Checking;
using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Master;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Explaining.Conflicts;
using SetWeek.Planning.Explaining.Repairs;
using SetWeek.Planning.Explaining.Slack;
using SetWeek.Planning.Insertion;
using SetWeek.Planning.Search;
using SetWeek.Planning.Tests.Exact;

namespace SetWeek.Planning.Tests;

/// <summary>The table of rules and goals by parts of the planner says what the parts do.</summary>
public sealed class CoverageTests
{
    private static readonly SearchLimits Short = new() { Effort = 1, Workers = 1 };

    public static TheoryData<RuleId> Rules => new(RuleIds.All);

    public static TheoryData<GoalId> Goals => new(GoalIds.All);

    [Theory, MemberData(nameof(Rules))]
    public void The_exact_model_posts_a_constraint_for_the_rules_that_the_table_says(RuleId rule)
    {
        var (problem, best, _) = RuleWeek.Of(rule);
        Assert.Equal(Coverage.Of(rule).ExactModel, CpOptimum.Best(problem, rule)![0] != best);
    }

    [Theory, MemberData(nameof(Rules))]
    public void The_serial_scheme_finds_a_plan_by_itself_for_the_rules_that_the_table_says(RuleId rule)
    {
        var problem = RuleWeek.Of(rule).Problem;
        var incumbent = new Incumbent(problem);
        new HeuristicSearch(problem, incumbent, new Budget(Short, CancellationToken.None)).FindFirst();
        Assert.Equal(Coverage.Of(rule).Insertion, incumbent.Best is not null);
    }

    /// <summary>80 stints that need nobody are added, far more than the exact model is tried on first.</summary>
    [Theory, MemberData(nameof(Rules))]
    public void A_large_week_in_which_a_rule_binds_has_a_plan(RuleId rule)
    {
        var (small, replan) = (RuleWeek.Of(rule).Problem.Week, RuleWeek.Of(rule).Problem.Replan);
        var large = small with
        {
            Tasks =
            [
                .. small.Tasks.Where(task => !task.Last),
                .. Enumerable.Range(0, 80).Select(number => new WeekTask
                {
                    Id = $"machine-{number}", Name = $"Machine {number}", Display = small.Displays[0].Id,
                    Zone = small.Store.Zones[^1].Id, Modes = [new(30, [])],
                }),
                .. small.Tasks.Where(task => task.Last),
            ],
        };
        var plan = Planner.Plan(large, Short, replan);
        Assert.Contains(plan.Status, new[] { PlanStatus.Optimal, PlanStatus.Feasible });
    }

    [Theory, MemberData(nameof(Rules))]
    public void A_conflict_can_name_the_rules_that_the_table_says(RuleId rule) =>
        Assert.Equal(Coverage.Of(rule).Conflicts, Relaxable(rule).Count > 0);

    [Theory, MemberData(nameof(Rules))]
    public void A_repair_is_tried_for_the_rules_that_the_table_says(RuleId rule)
    {
        var problem = RuleWeek.Of(rule).Problem;
        var conflict = new Conflict(Relaxable(rule), Irreducible: true, problem.Week);
        Assert.Equal(Coverage.Of(rule).Repairs, new RepairCandidates(problem.Week, problem.Replan).For(conflict).Any());
    }

    /// <summary>On weeks that are as tight as their rules; that each rule can be named is for the tests of slack.</summary>
    [Theory, MemberData(nameof(Rules))]
    public void A_plan_says_that_no_slack_is_left_only_for_the_rules_that_the_table_says(RuleId rule)
    {
        var problem = RuleWeek.Of(rule).Problem;
        var incumbent = new Incumbent(problem);
        new HeuristicSearch(problem, incumbent, new Budget(Short, CancellationToken.None)).Improve();
        Assert.All(TightRules.Of(problem, incumbent.Best!), tight => Assert.True(Coverage.Of(tight.Rule).Slack, $"{tight.Rule}"));
    }

    [Theory, MemberData(nameof(Goals))]
    public void A_goal_is_planned_for_and_its_bound_lies_between_0_and_its_value(GoalId goal)
    {
        var (week, replan, least) = WeekOf(goal);
        var plan = Planner.Plan(week, new SearchLimits { Effort = 5, Workers = 1 }, replan);
        var value = plan.Goals.Single(one => one.Goal == goal);
        Assert.Equal(least, value.Value);
        Assert.Equal(least, value.Bound);
        Assert.Equal(PlanStatus.Optimal, plan.Status);
        Assert.Empty(PlanAudit.Discrepancies(Problem.Of(week, replan), plan));
    }

    [Theory, MemberData(nameof(Goals))]
    public void Local_search_weighs_the_goals_own_value_where_the_table_says_so(GoalId goal)
    {
        var (week, replan, _) = WeekOf(goal);
        var problem = Problem.Of(week, replan);
        var incumbent = new Incumbent(problem);
        new HeuristicSearch(problem, incumbent, new Budget(Short, CancellationToken.None)).FindFirst();
        var compact = new CompactProblem(problem);
        var schedule = new PartialSchedule(compact);
        new PartialScheduleReader(compact, new ShortestShift(compact))
            .Read(schedule, InitialPartialSchedule.Of(compact), incumbent.Best!);
        var objective = new WeightedObjective(compact, new());
        var values = new long[objective.Count];
        objective.Evaluate(schedule, values);
        var own = AllGoals.Of(goal).Measure(problem, incumbent.Best!);
        Assert.Equal(Coverage.Of(goal).Annealing == GoalKnowledge.Value, own == values[IndexOf(problem, goal)]);
    }

    [Theory, MemberData(nameof(Goals))]
    public void The_night_master_bounds_the_goals_that_the_table_says(GoalId goal)
    {
        var (week, replan, least) = WeekOf(goal);
        var problem = Problem.Of(week, replan);
        var master = new NightMaster(problem, RootPropagation.Of(problem));
        for (var above = 0; above < IndexOf(problem, goal); above++) master.Cap(problem.Goals[above].Goal, WeekOf(goal).Above);
        var (sum, divisor) = master.Goal(goal);
        var bound = 0L;
        new IntegerModelSolver(master.Model, new Budget(new SearchLimits { Effort = 10, Workers = 1 }, CancellationToken.None))
            .Minimise(sum, 10, found => bound = Math.Max(bound, (found + divisor - 1) / divisor), () => false);
        Assert.InRange(bound, 0, least);
        Assert.Equal(Coverage.Of(goal).NightMaster != GoalKnowledge.None, bound > 0);
        if (Coverage.Of(goal).NightMaster == GoalKnowledge.Value) Assert.Equal(least, bound);
    }

    [Theory, MemberData(nameof(Goals))]
    public void Propagation_alone_bounds_the_goals_that_the_table_says(GoalId goal)
    {
        var (week, replan, least) = WeekOf(goal);
        var bound = RootPropagation.Of(Problem.Of(week, replan)).Bound(goal);
        Assert.InRange(bound, 0, least);
        Assert.Equal(Coverage.Of(goal).Propagation != GoalKnowledge.None, bound > 0);
    }

    [Fact]
    public void The_page_about_coverage_shows_the_table()
    {
        var page = File.ReadAllLines(Path.Combine(ExampleFiles.Root, "docs", "decisions", "coverage.md"));
        Assert.All(RuleIds.All, rule => Assert.Contains(RowOf(rule), page));
        Assert.All(GoalIds.All, goal => Assert.Contains(RowOf(goal), page));
    }

    private static string RowOf(RuleId rule)
    {
        var row = Coverage.Of(rule);
        return Row(rule.Text(), new[] { row.ExactModel, row.Insertion, row.Conflicts, row.Repairs, row.Slack }
            .Select(known => known ? "yes" : "check alone"));
    }

    private static string RowOf(GoalId goal)
    {
        var row = Coverage.Of(goal);
        GoalKnowledge[] cells = [row.ExactModel, row.Annealing, row.NightMaster, row.Propagation];
        return Row(goal.Text(), cells.Select(known => known switch
        {
            GoalKnowledge.None => "none",
            GoalKnowledge.LowerBound => "lower bound",
            GoalKnowledge.Value => "value",
        }));
    }

    private static string Row(string id, IEnumerable<string> cells) => $"| `{id}` | {string.Join(" | ", cells)} |";

    private static int IndexOf(Problem problem, GoalId goal) => problem.Goals.ToList().FindIndex(choice => choice.Goal == goal);

    private static IReadOnlyList<RelaxableRule> Relaxable(RuleId rule) =>
        [.. AllRelaxableRules.Of(RuleWeek.Of(rule).Problem.Week)
            .SelectMany(relaxable => relaxable.Parts.Count == 0 ? [relaxable] : relaxable.Parts)
            .Where(relaxable => relaxable.Rule == rule)];

    private sealed record GoalWeek(Week Week, Replan? Replan, long Least)
    {
        /// <summary>What the goals above it may come to.</summary>
        public long Above { get; init; }
    }

    /// <summary>
    /// A week whose least value of the goal is argued here, and above 0 for all goals but hold, which no part bounds. Nights open at 22:00 and last eight hours; an hour of one
    /// person costs 12.00.
    /// </summary>
    private static GoalWeek WeekOf(GoalId goal)
    {
        var week = TinyWeek.New.With(week => week with { GridMinutes = 30 });
        var alone = week.Person("bo", Never).Person("cy", Never);
        var oneNight = alone.With(week => week with { Nights = [week.Nights[0]] })
            .Person("ana", member => member with { Available = [new("mon")] });
        return goal switch
        {
            // The kit of the want never arrives.
            GoalId.LeftOut => First(goal, oneNight.Display("small", Want(3)).Kit("props", null)
                .Task("b", 60, task => task with { Display = "small", Needs = [new("props")] }), 3),
            // Begun on Monday at 04:30, "a" ends late in more than half of the scenarios; on Tuesday it hardly ever does.
            GoalId.Hold => First(goal, week.Kit("props", "2027-03-09T04:30").Task("a", 60, task => task with
                { Estimate = new(60, 600), Needs = [new("props")] }), 0),
            // 210 minutes of two people on the last night are 420; a fifth of 3 x 480 minutes is 288.
            GoalId.Reserve => First(goal, week.Rules(new() { ReservePercent = 20 }).Kit("props", "2027-03-10T22:00")
                .Task("a", 210, task => task with { Modes = [new(210, [new("hands", 2)])], Needs = [new("props")] }), 132),
            // The paint dries until after closes, so the wall is bare on one day.
            GoalId.Bare => First(goal, alone.Zone("wall", wall => wall with { TradePerDay = 500 })
                .Task("a", 60, task => task with { Empties = true })
                .Task("b", 60, task => task with { After = [new("a") { DryMinutes = 480 }], Fills = true }), 500),
            GoalId.Cost => First(goal, alone.Task("a", 120), 2400),
            GoalId.Finish => First(goal, alone.Task("a", 120), 120),
            // Five hours twice, and one person for eight hours a night.
            GoalId.Nights => First(goal, alone.Task("a", 300).Task("b", 300), 2),
            GoalId.Shifts => First(goal, alone.Task("a", 300).Task("b", 300), 2),
            // Each can stay for one of the two stints only.
            GoalId.Handovers => First(goal, oneNight.Person("ana", Between("2027-03-08T22:00", "2027-03-09T00:00"))
                .Person("bo", Between("2027-03-09T00:00", "2027-03-09T02:00"))
                .Task("a", 240, task => task with { Stints = 2 }), 1),
            // One person, one night, two zones.
            GoalId.Moves => First(goal, oneNight.Task("a", 60).Task("b", 60, task => task with { Zone = "floor" }), 1),
            // Three hours that only ana can do, at no more than they cost: bo cannot be paid for anything.
            GoalId.Uneven => new(week.Person("cy", Never)
                .Person("bo", member => member with { Skills = new Dictionary<string, int> { ["painting"] = 1 } })
                .Task("a", 180).With(week => week with { Goals = [new(GoalId.Cost), new(goal)] }).Problem.Week, null, 180)
                { Above = 3600 },
            GoalId.Changes => KitADayLate(week),
            GoalId.Shuffled => KitAnHourLate(oneNight),
        };
    }

    private static GoalWeek First(GoalId goal, TinyWeek week, long least) =>
        new(week.With(week => week with { Goals = [new(goal)] }).Problem.Week, null, least);

    /// <summary>
    /// Ana keeps her Monday, with nothing to do; a shift on Tuesday is added (2), more than a day ahead, and the work changes its
    /// night (1). Calling Monday off would count 2 x 3 more: it is today.
    /// </summary>
    private static GoalWeek KitADayLate(TinyWeek week)
    {
        var late = week.Rules(new() { NoticeMinutes = 1440 }).Kit("props", "2027-03-09T22:00")
            .Task("a", 60, task => task with { Needs = [new("props")] })
            .With(week => week with { ReplanGoals = [new(GoalId.Changes)] });
        var published = late.Plan.Shift("mon", "ana", "22:00", "23:00").Work("mon", "a", "22:00", "23:00", "ana");
        var problem = late.Replan(published, "2027-03-08T12:00").Problem;
        return new(problem.Week, problem.Replan, 3);
    }

    /// <summary>The work has to start an hour later than published, in the only night.</summary>
    private static GoalWeek KitAnHourLate(TinyWeek oneNight)
    {
        var late = oneNight.Kit("props", "2027-03-08T23:00").Task("a", 60, task => task with { Needs = [new("props")] })
            .With(week => week with { ReplanGoals = [new(GoalId.Shuffled)] });
        var published = late.Plan.Shift("mon", "ana", "22:00", "23:00").Work("mon", "a", "22:00", "23:00", "ana");
        var problem = late.Replan(published, "2027-03-08T12:00").Problem;
        return new(problem.Week, problem.Replan, 1);
    }

    private static Func<CrewMember, CrewMember> Between(string from, string to) => member =>
        member with { Available = [new("mon", TinyWeek.Local(from), TinyWeek.Local(to))] };

    private static CrewMember Never(CrewMember member) => member with { Available = [] };

    private static Func<Display, Display> Want(int value) => display =>
        display with { Commitment = DisplayCommitment.Want, Value = value };
}
