using SetWeek.Model.Changes;
using SetWeek.Model.Durations;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk;
using SetWeek.Planning.Risk.Mitigations;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Planning.Search;
using static SetWeek.Planning.Tests.Risk.TinySimulation;

namespace SetWeek.Planning.Tests.Risk;

/// <summary>
/// What would help a figure that is posed and not tethered in the same night. Tethering is noisy and takes an hour, and a ban
/// begins at 03:00. With the grace of half an hour, tethering may begin by 02:30. Posing takes 60 to 180 minutes and has the
/// distribution of <see cref="MitigationSearchTests"/>: begun at 01:00, it ends by 02:30 in 1 - (1 - 0.25)^5 of the weeks.
/// </summary>
public sealed class SecuringTests
{
    private const double QuarterOfTheRange = 1 - 0.75 * 0.75 * 0.75 * 0.75 * 0.75, Tolerance = 0.02;

    private static readonly SearchLimits Limits = new() { Effort = 3, Workers = 1 };

    private static Func<WeekTask, WeekTask> Pose => WithEstimate(60, 180);

    private static Func<WeekTask, WeekTask> Tether =>
        WithPredecessor("pose", sameNight: true).Then(task => task with { Traits = ["noisy"] });

    private static TinyWeek OneNight(string launch = "2027-03-09T06:00") => TinyWeek.New.With(week => week with
    {
        Nights = [week.Nights[0]], Launch = TinyWeek.Local(launch), Crew = [week.Crew[0] with { Available = [new("mon")] }],
    }).Ban("mon", "noisy", "2027-03-09T03:00", "2027-03-09T06:00");

    /// <summary>Stripping has to come before, so that posing cannot begin earlier.</summary>
    private static TinyPlan AfterStripping(TinyWeek week, Func<WeekTask, WeekTask> pose) => week.Task("strip", 180)
        .Task("pose", 60, WithPredecessor("strip").Then(pose)).Task("tether", 60, Tether).Plan
        .Shift("mon", "ana", "22:00", "03:00").Work("mon", "strip", "22:00", "01:00", "ana")
        .Work("mon", "pose", "01:00", "02:00", "ana").Work("mon", "tether", "02:00", "03:00", "ana");

    private static TinyPlan Alone(TinyWeek week) => week.Task("pose", 60, Pose).Task("tether", 60, Tether).Plan
        .Shift("mon", "ana", "01:00", "03:00").Work("mon", "pose", "01:00", "02:00", "ana")
        .Work("mon", "tether", "02:00", "03:00", "ana");

    /// <summary>Two people pose in 30 to 90 minutes, so they always end by 02:30.</summary>
    [Fact]
    public void The_best_move_is_stated_with_what_its_new_plan_leaves_secured()
    {
        var plan = AfterStripping(OneNight(),
            Pose.Then(task => task with { Modes = [.. task.Modes, new(30, [new("hands", 2)])] }));
        var advice = Securing(plan)!;
        Assert.Equal(("pose", "tether", 80), (advice.Task, advice.Next, advice.TargetPercent));
        Assert.InRange(advice.Replanned.Secured.Share, QuarterOfTheRange - Tolerance, QuarterOfTheRange + Tolerance);
        Assert.Equal([new ExtraPerson("mon", "hands", 1)], advice.Best!.Changes);
        Assert.Equal(1, advice.Best.Reached!.Secured.Share);
    }

    /// <summary>The launch is three hours later, so the night may close at 07:00. After the ban there is time to tether.</summary>
    [Fact]
    public void A_longer_night_can_be_the_best_move()
    {
        var best = Securing(AfterStripping(OneNight("2027-03-09T09:00"), Pose))!.Best!;
        Assert.Equal([new NightWindowMoved("mon", Closes: TinyWeek.Local("2027-03-09T07:00"))], best.Changes);
        Assert.Equal(1, best.Reached!.Secured.Share);
    }

    /// <summary>Posing needs one person, and the night cannot be longer.</summary>
    [Fact]
    public void Where_no_move_helps_all_are_listed_with_what_they_gave()
    {
        var advice = Securing(AfterStripping(OneNight(), Pose))!;
        Assert.Null(advice.Best);
        var move = Assert.Single(advice.Others);
        Assert.Equal([new ExtraPerson("mon", "hands", 1)], move.Changes);
        Assert.InRange(move.Reached!.Secured.Share, QuarterOfTheRange - Tolerance, QuarterOfTheRange + Tolerance);
    }

    [Fact]
    public void No_move_is_tried_where_a_new_plan_leaves_nothing_half_secured()
    {
        var advice = Securing(Alone(OneNight()))!;
        Assert.InRange(advice.Replanned.Secured.Share, 0.8, 1);
        Assert.Equal((null, 0), (advice.Best, advice.Others.Count));
    }

    [Fact]
    public void A_plan_that_leaves_nothing_half_secured_gets_no_advice()
    {
        var plan = OneNight().Task("pose", 60, WithEstimate(60, 70)).Task("tether", 60, Tether).Plan
            .Shift("mon", "ana", "22:00", "00:00").Work("mon", "pose", "22:00", "23:00", "ana")
            .Work("mon", "tether", "23:00", "00:00", "ana");
        Assert.Null(Securing(plan));
    }

    [Fact]
    public void The_risk_has_the_advice_too()
    {
        var plan = AfterStripping(OneNight(), Pose);
        var report = RiskSimulation.Of(plan.Problem, plan.Schedule, new RiskOptions { Runs = 500 });
        var advice = MitigationSearch.Of(plan.Problem, plan.Schedule, new RiskOptions { Runs = 500 }, report, Limits);
        Assert.Equal(("pose", "tether"), (advice.Securing!.Task, advice.Securing.Next));
    }

    /// <summary>There are three nights, and the plan begins posing three hours after Monday opens.</summary>
    [Fact]
    public void The_chain_can_begin_earlier_or_in_another_night_and_new_plans_keep_to_that()
    {
        var plan = Alone(TinyWeek.New.Ban("mon", "noisy", "2027-03-09T03:00", "2027-03-09T06:00"));
        var halfSecured = HoldChance.Of(plan.Problem, plan.Schedule).HalfSecured!;
        var chain = new SameNightChain(plan.Problem, MitigationCase.Of(plan.Problem, plan.Schedule, null), halfSecured);

        SecuringCandidate[] moves = [.. chain.EarlierStarts(), .. chain.OtherNights()];

        Assert.Equal([("mon", "2027-03-08T22:00"), ("mon", "2027-03-08T23:30"), ("tue", null)], moves.Select(move =>
            (move.Pins[0].Night!, move.Pins[0].From?.ToString("uuuu-MM-dd'T'HH:mm", null))));
        Assert.Contains("begins at 22:00 instead of 01:00.", moves[0].Sentence);
        Assert.Contains("instead of the night of Mon 8 Mar.", moves[2].Sentence);
        foreach (var move in moves)
        {
            var found = MeasuredPlan.Search(move.Case, new Budget(new SearchLimits { Effort = 0.1, Workers = 1 }, default))!;
            var pose = found.Schedule.WorkByStint(found.Problem)[found.Problem.Tasks[found.Problem.TaskOf("pose")].FirstStint]!;
            Assert.Equal(move.Pins[0].Night, found.Problem.Nights[pose.Night].Id);
            if (move.Pins[0].From is { } from) Assert.Equal(found.Problem.Grid.MinuteOf(from), pose.From);
        }
    }

    /// <summary>It is 23:00 in the night under way.</summary>
    [Fact]
    public void No_move_begins_work_before_now()
    {
        var published = Alone(TinyWeek.New.Ban("mon", "noisy", "2027-03-09T03:00", "2027-03-09T06:00"));
        var problem = Problem.Of(published.Problem.Week,
            new Replan(published.AsPlan, TinyWeek.Local("2027-03-08T23:00"), []));
        var chain = new SameNightChain(problem, MitigationCase.Of(problem, published.Schedule, null),
            HoldChance.Of(problem, published.Schedule).HalfSecured!);
        Assert.Equal(["2027-03-08T23:00", "2027-03-09T00:00"],
            chain.EarlierStarts().Select(move => move.Pins[0].From?.ToString("uuuu-MM-dd'T'HH:mm", null)));
    }

    private static SecuringAdvice? Securing(TinyPlan plan) => MitigationSearch.Securing(
        plan.Problem, plan.Schedule, HoldChance.Of(plan.Problem, plan.Schedule), Limits);
}
