using SetWeek.Bench;
using SetWeek.Model.Goals;
using SetWeek.Model.Problems;
using SetWeek.Model.Simulation;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Annealing;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;
using SetWeek.Planning.Scenarios;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Scenarios;

public sealed class HoldEstimateTests
{
    /// <summary>
    /// Each person has one task a night. Nothing waits for anything or can be put off, so the estimate is the simulation.
    /// </summary>
    [Fact]
    public void The_estimate_is_the_simulated_count_where_no_work_can_be_put_off()
    {
        var week = TinyWeek.New.With(week => week with { Goals = [new(GoalId.Hold), new(GoalId.Cost)] })
            .Task("a", 450, task => task with { Estimate = new(400, 600) })
            .Task("b", 420, task => task with { Estimate = new(420, 700) })
            .Task("c", 480, task => task with { Estimate = new(300, 560) }).Problem;
        var (estimated, simulated) = Both(week);
        Assert.Equal(simulated, estimated);
        Assert.InRange(simulated, 1, week.Week.Hold.Scenarios - 1);
    }

    /// <summary>One task needs the ladder and the lift, the other the lift alone, so the second waits for the first.</summary>
    [Fact]
    public void A_task_occupies_every_kind_of_equipment_that_it_needs()
    {
        var week = TinyWeek.New.With(week => week with
        {
            Goals = [new(GoalId.Hold), new(GoalId.Cost)],
            Nights = [week.Nights[0]],
            Crew = [.. week.Crew.Select(member => member with { Available = [new("mon")] })],
            Store = week.Store with { Equipment = [new("ladder", 1), new("lift", 1)] },
        }).Task("a", 230, task => task with { Estimate = new(200, 320), Modes = [With(task.Modes[0], "ladder", "lift")] })
            .Task("b", 230, task => task with { Estimate = new(200, 320), Modes = [With(task.Modes[0], "lift")] }).Problem;
        var (estimated, simulated) = Both(week);
        Assert.Equal(simulated, estimated);
        Assert.InRange(simulated, 1, week.Week.Hold.Scenarios - 1);

        static Mode With(Mode mode, params string[] kinds) =>
            mode with { Equipment = [.. kinds.Select(kind => new EquipmentUse(kind, 1))] };
    }

    /// <summary>It leaves out work done in a later night, and fixes who takes which ladder, so it is mostly a little lower.</summary>
    [Theory]
    [InlineData(4), InlineData(6), InlineData(15)]
    public void The_estimate_is_close_to_the_simulated_count(int seed)
    {
        var week = WeekGenerator.Make(WeekGenerator.Size.Small, seed);
        week = week with { Goals = [new(GoalId.LeftOut), new(GoalId.Hold), new(GoalId.Cost)] };
        var (estimated, simulated) = Both(Problem.Of(week));
        Assert.InRange(estimated, simulated - 0.1 * week.Hold.Scenarios, simulated + 0.04 * week.Hold.Scenarios);
    }

    [Fact]
    public void A_week_that_does_not_ask_for_the_goal_or_has_no_uncertain_duration_needs_no_estimate()
    {
        var asked = TinyWeek.New.With(week => week with { Goals = [new(GoalId.Hold)] }).Task("a", 60);
        var uncertain = TinyWeek.New.With(week => week with { Goals = [new(GoalId.Cost)] })
            .Task("a", 60, task => task with { Estimate = new(30, 90) });
        Assert.Null(HoldEstimate.For(new CompactProblem(asked.Problem)));
        Assert.Null(HoldEstimate.For(new CompactProblem(uncertain.Problem)));
    }

    /// <summary>
    /// The kit comes on Monday at 04:30. Work done then is finished soonest, but it ends late in more than half of the scenarios.
    /// </summary>
    [Theory]
    [InlineData(false, "mon"), InlineData(true, "tue")]
    public void Work_waits_for_a_night_with_time_to_spare_where_the_plan_has_to_hold(bool hold, string night)
    {
        var week = TinyWeek.New.Kit("props", "2027-03-09T04:30")
            .Task("a", 60, task => task with { Estimate = new(60, 600), Needs = [new("props")] })
            .With(week => week with { Goals = hold ? [new(GoalId.Hold), new(GoalId.Finish)] : [new(GoalId.Finish)] });
        var plan = Planner.Plan(week.Week, new SearchLimits { Effort = 1, Workers = 1 });
        Assert.Equal(night, Assert.Single(plan.Nights, planned => planned.Work.Count > 0).Night);
        if (hold) Assert.Equal(0, plan.Goals[0].Value);
    }

    /// <summary>The plan that the search calls held is held by the goal's own measure, at some cost.</summary>
    [Fact]
    public void A_week_reaches_the_chance_asked_for_and_pays_for_it()
    {
        var week = WeekGenerator.Make(WeekGenerator.Size.Small, 4);
        IReadOnlyList<GoalChoice> without = [new(GoalId.LeftOut), new(GoalId.Cost)];
        var cheapest = Planner.Plan(week with { Goals = without }, new SearchLimits { Effort = 2, Workers = 1 });
        var held = Planner.Plan(week with { Goals = [without[0], new(GoalId.Hold), without[1]] },
            new SearchLimits { Effort = 3, Workers = 1 });
        var problem = Problem.Of(week);
        Assert.True(Shortfall(problem, PlanConverter.ScheduleOf(problem, cheapest)) > 0);
        Assert.Equal(0, Shortfall(problem, PlanConverter.ScheduleOf(problem, held)));
    }

    /// <summary>While a goal before hold is improved, hold costs no time, has no value and no weight.</summary>
    [Fact]
    public void The_objective_neither_estimates_nor_weighs_hold_while_it_is_ignored()
    {
        var week = WeekGenerator.Make(WeekGenerator.Size.Small, 4);
        var compact = new CompactProblem(Problem.Of(week with
        {
            Goals = [new(GoalId.LeftOut), new(GoalId.Hold), new(GoalId.Cost)],
        }));
        var schedule = FirstPlan(compact);
        var objective = new WeightedObjective(compact, new());
        var values = new long[objective.Count];
        var sum = objective.Evaluate(schedule, values);
        var (shortfall, evaluated) = (values[1], objective.Hold!.NightsEvaluated);
        Assert.True(shortfall > 0);
        objective.IgnoresHold = true;
        var without = objective.Evaluate(schedule, values);
        Assert.Equal(0, values[1]);
        Assert.True(without < sum);
        Assert.Equal(without, objective.EvaluateWithin(schedule, values, double.MaxValue, [.. values]));
        Assert.Equal(evaluated, objective.Hold.NightsEvaluated);
        objective.IgnoresHold = false;
        Assert.Equal(sum, objective.Evaluate(schedule, values));
        Assert.Equal(shortfall, values[1]);
    }

    private static PartialSchedule FirstPlan(CompactProblem compact)
    {
        var incumbent = new Incumbent(compact.Problem);
        var limits = new SearchLimits { Effort = 0.2, Workers = 1 };
        new HeuristicSearch(compact.Problem, incumbent, new Budget(limits, CancellationToken.None)).FindFirst();
        var schedule = new PartialSchedule(compact);
        new PartialScheduleReader(compact, new ShortestShift(compact))
            .Read(schedule, InitialPartialSchedule.Of(compact), incumbent.Best!);
        return schedule;
    }

    private static long Shortfall(Problem problem, Schedule schedule) => AllGoals.Of(GoalId.Hold).Measure(problem, schedule);

    private static (int Estimated, int Simulated) Both(Problem problem)
    {
        var compact = new CompactProblem(problem);
        var schedule = FirstPlan(compact);
        var estimate = HoldEstimate.For(compact)!;
        estimate.Of(schedule);
        return (estimate.Held, HeldScenarios.Of(problem, ScheduleCompletion.Of(compact, schedule)).Held);
    }
}
