using SetWeek.Model.Durations;
using SetWeek.Model.Simulation;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Goals;

public sealed class HoldGoalTests
{
    /// <summary>
    /// An hour at its most likely, which is also its shortest, and ten hours at its longest: PERT makes it a beta distribution
    /// with the exponents 1 and 5 on 60 to 600 minutes, whose distribution function is 1 - (1 - x)^5.
    /// </summary>
    private static readonly TinyWeek Week = TinyWeek.New.Task("a", 60, task => task with { Estimate = new(60, 600) });

    /// <summary>From 04:30 the night's grace ends after 120 minutes: x = (120 - 60) / 540 = 1/9.</summary>
    private static readonly TinyPlan Late = LateIn(Week);

    [Fact]
    public void The_chance_of_one_task_is_that_of_its_distribution()
    {
        const int runs = 40_000;
        var held = HeldScenarios.Of(Late.Problem, Late.Schedule, new RiskOptions { Runs = runs, GraceMinutes = 30 });
        var chance = 1 - Math.Pow(8.0 / 9, 5);
        // Four standard errors.
        Assert.InRange((double)held.Held / runs, chance - 4 * Math.Sqrt(chance * (1 - chance) / runs),
            chance + 4 * Math.Sqrt(chance * (1 - chance) / runs));
    }

    /// <summary>Ten times 80 less the held scenarios per mille, rounded down.</summary>
    [Fact]
    public void The_value_is_what_the_held_scenarios_fall_short_of_the_chance_asked_for()
    {
        var held = HeldScenarios.Of(Late.Problem, Late.Schedule);
        Assert.Equal(256, held.Scenarios);
        Assert.InRange(held.Held, 80, 150);
        Assert.Equal(800 - 1000 * held.Held / 256, Late.Goal(GoalId.Hold));
        Assert.Equal(0, Asking(hold => hold with { Chance = 25 }).Goal(GoalId.Hold));
    }

    [Fact]
    public void A_plan_whose_durations_are_certain_holds()
    {
        var certain = TinyWeek.New.Task("a", 60).Plan.Work("mon", "a", "05:00", "06:00", "ana")
            .Shift("mon", "ana", "05:00", "06:00");
        Assert.Equal(0, certain.Goal(GoalId.Hold));
    }

    /// <summary>Without grace the night ends after 90 minutes: x = 1/18, about a quarter of the scenarios.</summary>
    [Fact]
    public void Grace_lets_a_night_close_later() =>
        Assert.InRange(Asking(hold => hold with { GraceMinutes = 0 }).Goal(GoalId.Hold), Late.Goal(GoalId.Hold) + 100, 700);

    /// <summary>The task is due that night, and its night closes at 06:00; the grace does not move what is due.</summary>
    [Fact]
    public void A_due_is_met_by_the_closes_of_its_night() => Assert.Equal(
        Asking(hold => hold with { GraceMinutes = 0 }).Goal(GoalId.Hold),
        LateIn(Week.With(week => week with { Tasks = [week.Tasks[0] with { Due = "mon" }] })).Goal(GoalId.Hold));

    /// <summary>The other task cannot be begun in time where the first is slow, and ties it down the same night.</summary>
    [Fact]
    public void A_scenario_with_half_secured_work_is_not_held()
    {
        var week = Week.Task("tie", 60, "a", sameNight: true).With(week => week with
        {
            Nights = [week.Nights[0] with { Bans = [LateNoise] }, .. week.Nights.Skip(1)],
            Tasks = [week.Tasks[0], week.Tasks[1] with { Traits = ["noisy"] }],
        });
        var plan = week.Plan.Work("mon", "a", "22:00", "23:00", "ana").Work("mon", "tie", "23:00", "00:00", "ana")
            .Shift("mon", "ana", "22:00", "00:00");
        var held = HeldScenarios.Of(plan.Problem, plan.Schedule);
        Assert.InRange(held.Secured, 1, held.Scenarios - 1);
        Assert.InRange(held.Held, 0, held.Secured);
    }

    /// <summary>Scenarios are drawn from seed, task and number alone.</summary>
    [Fact]
    public void Another_task_changes_no_scenario_and_another_seed_all_of_them()
    {
        Assert.Equal(Late.Goal(GoalId.Hold), LateIn(Week.Task("b", 30)).Goal(GoalId.Hold));
        Assert.NotEqual(Late.Goal(GoalId.Hold), Asking(hold => hold with { Seed = 1 }).Goal(GoalId.Hold));
    }

    /// <summary>Whoever measures a plan gives a small seed. It must not draw the scenarios that the plan was made for.</summary>
    [Fact]
    public void No_small_seed_draws_the_scenarios_again()
    {
        var seeds = Enumerable.Range(0, 1000).Select(seed => RiskOptions.ForScenariosOf(new HoldTarget { Seed = seed }).Seed).ToArray();
        Assert.Equal(seeds.Length, seeds.Distinct().Count());
        Assert.All(seeds, seed => Assert.InRange(seed, 100_000, int.MaxValue));
    }

    private static Ban LateNoise => new("noisy", TinyWeek.Local("2027-03-09T03:00"), TinyWeek.Local("2027-03-09T06:00"));

    private static TinyPlan Asking(Func<HoldTarget, HoldTarget> change) =>
        LateIn(Week.With(week => week with { Hold = change(week.Hold) }));

    private static TinyPlan LateIn(TinyWeek week) =>
        week.Plan.Work("mon", "a", "04:30", "05:30", "ana").Shift("mon", "ana", "04:30", "05:30");
}
