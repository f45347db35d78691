using SetWeek.Model.Changes;
using SetWeek.Model.Durations;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Planning.Search;
using static SetWeek.Planning.Tests.Risk.TinySimulation;

namespace SetWeek.Planning.Tests.Risk;

/// <summary>
/// Changes that would help, on weeks whose chance has a closed form. A duration whose shortest value a is also its most likely
/// has the PERT beta distribution Beta(1, 5) between a and b, so it is at most a + x (b - a) with probability 1 - (1 - x)^5
/// (the distribution function of Beta(1, n)).
/// </summary>
public sealed class MitigationSearchTests
{
    private const double QuarterOfTheRange = 1 - 0.75 * 0.75 * 0.75 * 0.75 * 0.75;

    /// <summary>Four standard errors of a share of 10,000 runs.</summary>
    private const double Tolerance = 0.02;

    private static readonly RiskOptions Options = new() { Runs = 4000 };

    private static readonly SearchLimits Limits = new() { Effort = 2, Workers = 1 };

    private static readonly NightWindowMoved ClosesAtSeven = new("mon", Closes: TinyWeek.Local("2027-03-09T07:00"));

    private static Func<WeekTask, WeekTask> WithSecondMode =>
        task => task with { Modes = [.. task.Modes, new(120, [new("hands", 2)])] };

    /// <summary>One night of eight hours, Ana alone, and a launch three hours later.</summary>
    private static TinyWeek OneNight => TinyWeek.New.With(week => week with
    {
        Nights = [week.Nights[0]], Launch = TinyWeek.Local("2027-03-09T09:00"),
        Crew = [week.Crew[0] with { Available = [new("mon")] }],
    });

    /// <summary>
    /// The plan fills the night of eight hours. Stripping takes 240 to 360 minutes. With the grace of half an hour the plan holds
    /// if it takes at most 270: a quarter of the range.
    /// </summary>
    private static TinyPlan FullNight => Full(WithEstimate(240, 360).Then(WithSecondMode));

    private static TinyPlan Full(Func<WeekTask, WeekTask> strip) => OneNight.Task("strip", 240, strip)
        .Task("paint", 240, "strip").Plan
        .Shift("mon", "ana", "22:00", "06:00").Work("mon", "strip", "22:00", "02:00", "ana")
        .Work("mon", "paint", "02:00", "06:00", "ana");

    /// <summary>
    /// With an hour more, stripping may take 330 minutes: three quarters of the range. With a second person it takes 120 to 180.
    /// Wages are 12.00 an hour, for eight hours with either change.
    /// </summary>
    [Fact]
    public void A_remedy_is_stated_as_what_a_new_plan_reaches_on_fresh_runs()
    {
        var advice = Advice(FullNight);
        Assert.InRange(advice.Replanned!.Holds.Share, QuarterOfTheRange - Tolerance, QuarterOfTheRange + Tolerance);
        Assert.Equal((9600, 80, false), (advice.Replanned.Cost, advice.TargetPercent, advice.AlreadyReached));

        var person = Assert.Single(advice.Best, remedy => remedy.Changes.SequenceEqual([new ExtraPerson("mon", "hands")]));
        Assert.Equal((10_000, 10_000, 9600, true),
            (person.Reached.Holds.Held, person.Reached.Holds.Runs, person.Reached.Cost, person.PlannedAnew));
        var longer = Assert.Single(advice.Best, remedy => remedy.Changes.SequenceEqual([ClosesAtSeven]));
        Assert.InRange(longer.Reached.Holds.Share, 1 - Math.Pow(0.25, 5) - 0.002, 1);
        Assert.Equal((1, 1), (advice.WithBoth!.Holds.Share, advice.Both!.Value.Share));
    }

    /// <summary>Neither task is faster with a second person, and one waits for the other.</summary>
    [Fact]
    public void Changes_that_do_not_help_are_listed_with_what_they_gave()
    {
        var advice = Advice(Full(WithEstimate(240, 360)));
        Assert.Equal([ClosesAtSeven], advice.Best.SelectMany(remedy => remedy.Changes));
        var other = Assert.Single(advice.Others, tried => tried.Changes.SequenceEqual([new ExtraPerson("mon", "hands")]));
        Assert.False(other.PlannedAnew);
        Assert.Equal(other.HoldsWithout, other.Holds);
        Assert.InRange(other.Holds.Share, QuarterOfTheRange - 2 * Tolerance, QuarterOfTheRange + 2 * Tolerance);
        Assert.Equal(advice.Tried, advice.Best.Count + advice.Others.Count);
    }

    /// <summary>The flags take an hour of the night. Without them, stripping may take 270 minutes: three quarters of the range.</summary>
    [Fact]
    public void Leaving_out_a_want_is_found()
    {
        var remedy = Assert.Single(Advice(WithFlags()).Best, remedy => remedy.Changes.SequenceEqual([new LeaveOut("flags")]));
        Assert.InRange(remedy.Reached.Holds.Share, 1 - Math.Pow(0.25, 5) - 0.002, 1);
        Assert.Equal(7 * 1200, remedy.Reached.Cost);
    }

    [Fact]
    public void Safety_work_is_never_proposed_to_be_left_out()
    {
        var advice = Advice(WithFlags(WeekTask.SafetyTrait));
        Assert.DoesNotContain(advice.Best.SelectMany(remedy => remedy.Changes)
            .Concat(advice.Others.SelectMany(tried => tried.Changes)), change => change is LeaveOut);
    }

    private static TinyPlan WithFlags(params string[] traits) => OneNight
        .Display("flags", flags => flags with { Commitment = DisplayCommitment.Want, Value = 10 })
        .Task("flags", 60, task => task with { Display = "flags", Traits = [.. traits] })
        .Task("strip", 180, WithEstimate(180, 300)).Task("paint", 240, "strip").Plan
        .Shift("mon", "ana", "22:00", "06:00").Work("mon", "flags", "22:00", "23:00", "ana")
        .Work("mon", "strip", "23:00", "02:00", "ana").Work("mon", "paint", "02:00", "06:00", "ana");

    /// <summary>The kit comes on Wednesday at 21:00, so all work is in that short night. On Tuesday there is enough time.</summary>
    [Fact]
    public void An_earlier_kit_is_tried_with_a_new_plan()
    {
        var plan = TinyWeek.New.Kit("props", "2027-03-10T21:00").With(week => week with { Crew = [week.Crew[0]] })
            .Night("wed", night => night with { Closes = TinyWeek.Local("2027-03-11T00:00") })
            .Task("strip", 60, WithEstimate(60, 180).Then(task => task with { Needs = [new("props")] }))
            .Task("paint", 60, "strip").Plan
            .Shift("wed", "ana", "22:00", "00:00").Work("wed", "strip", "22:00", "23:00", "ana")
            .Work("wed", "paint", "23:00", "00:00", "ana");
        var advice = Advice(plan);
        Assert.InRange(advice.Replanned!.Holds.Share, QuarterOfTheRange - Tolerance, QuarterOfTheRange + Tolerance);
        Assert.Equal(1, Assert.Single(advice.Best, remedy =>
            remedy.Changes.SequenceEqual([new KitEtaMoved("props", TinyWeek.Local("2027-03-09T22:00"))])).Reached.Holds.Share);
    }

    [Fact]
    public void A_plan_that_holds_as_often_as_asked_needs_no_remedy()
    {
        var plan = TinyWeek.New.Task("strip", 60, WithEstimate(60, 90)).Plan.Shift("mon", "ana", "22:00", "23:00")
            .Work("mon", "strip", "22:00", "23:00", "ana");
        var advice = Advice(plan);
        Assert.Equal((true, 0, 0, null), (advice.AlreadyReached, advice.Best.Count, advice.Tried, advice.Replanned));
    }

    /// <summary>The plan begins at 01:00 and holds in half of the weeks. A new plan may begin at 22:00.</summary>
    [Fact]
    public void No_change_is_tried_where_a_new_plan_reaches_the_chance()
    {
        var plan = OneNight.Task("strip", 180, WithEstimate(180, 420)).Task("paint", 120, "strip").Plan
            .Shift("mon", "ana", "01:00", "06:00").Work("mon", "strip", "01:00", "04:00", "ana")
            .Work("mon", "paint", "04:00", "06:00", "ana");
        var advice = Advice(plan);
        Assert.Equal((false, 0, 0), (advice.AlreadyReached, advice.Best.Count, advice.Tried));
        Assert.InRange(advice.Replanned!.Holds.Share, 0.8, 1);
    }

    [Fact]
    public void Tasks_without_an_estimate_are_planned_with_the_spread_of_the_simulation()
    {
        var plan = OneNight.Task("strip", 240, WithSecondMode).Task("paint", 240, "strip").Plan
            .Shift("mon", "ana", "22:00", "06:00").Work("mon", "strip", "22:00", "02:00", "ana")
            .Work("mon", "paint", "02:00", "06:00", "ana");
        Assert.True(Advice(plan).AlreadyReached);
        var advice = Advice(plan, Options with { DefaultSpread = new DefaultSpread(100, 200) });
        Assert.InRange(advice.Replanned!.Holds.Share, 0, 0.3);
        Assert.NotEmpty(advice.Best);
    }

    /// <summary>The plan is published, and its night has not begun. The new plans put the chance before changes.</summary>
    [Fact]
    public void A_published_week_is_planned_again_from_now_on()
    {
        var published = FullNight;
        var now = new TinyWeek(published.Problem.Week with { Hold = new HoldTarget { Chance = 95 } })
            .Replan(published, "2027-03-08T12:00");
        var problem = now.Problem;
        var schedule = problem.Facts!.PublishedWithActuals;
        var advice = MitigationSearch.Of(problem, schedule, Options, RiskSimulation.Of(problem, schedule, Options), Limits);
        Assert.InRange(advice.Replanned!.Holds.Share, QuarterOfTheRange - Tolerance, QuarterOfTheRange + Tolerance);
        var longer = Assert.Single(advice.Best, remedy => remedy.Changes.SequenceEqual([ClosesAtSeven]));
        Assert.InRange(longer.Reached.Holds.Share, 1 - Math.Pow(0.25, 5) - 0.002, 1);
    }

    [Fact]
    public void The_number_of_workers_has_no_effect_on_the_remedies() =>
        Assert.Equivalent(Advice(FullNight, Options with { Workers = 1 }), Advice(FullNight, Options with { Workers = 3 }),
            strict: true);

    [Fact]
    public void Cancellation_ends_the_search_with_an_exception()
    {
        var report = RiskSimulation.Of(FullNight.Problem, FullNight.Schedule, Options);
        Assert.ThrowsAny<OperationCanceledException>(() => MitigationSearch.Of(FullNight.Problem, FullNight.Schedule, Options,
            report, Limits, new CancellationToken(canceled: true)));
    }

    [Fact]
    public void Remedies_without_time_to_try_them_are_listed_as_untried()
    {
        var report = RiskSimulation.Of(FullNight.Problem, FullNight.Schedule, Options);
        var all = Advice(FullNight);
        Assert.Empty(all.Untried);

        var none = MitigationSearch.Of(FullNight.Problem, FullNight.Schedule, Options, report,
            new SearchLimits { Time = TimeSpan.Zero });
        Assert.Equal((0, 0, null, null), (none.Best.Count, none.Tried, none.Both, none.Replanned));
        Assert.Superset(all.Best.SelectMany(remedy => remedy.Changes).ToHashSet(),
            none.Untried.SelectMany(remedy => remedy.Changes).ToHashSet());
        Assert.All(none.Untried, remedy => Assert.NotEmpty(remedy.Sentence));
    }

    /// <summary>
    /// The time is over once the first candidate is measured in the plan as it is, before the week is planned anew with any:
    /// every candidate is named, tried or not.
    /// </summary>
    [Fact]
    public void When_the_most_time_is_over_the_advice_is_what_is_ready()
    {
        var clock = new ClockOfTheTest();
        var advice = Advice(FullNight, clock: clock, most: TimeSpan.FromMinutes(1), measured: _ => clock.EndTheTime());
        Assert.Equal((80, 0, null), (advice.TargetPercent, advice.Best.Count, advice.Both));
        Assert.NotEmpty(advice.Others);
        Assert.Equal(advice.Tried, advice.Others.Count);
        Assert.All(advice.Others, tried => Assert.False(tried.PlannedAnew));
        AssertNamesWhatHelps(advice);
    }

    [Fact]
    public void Without_any_time_every_candidate_is_untried()
    {
        var advice = Advice(FullNight, most: TimeSpan.Zero);
        Assert.Equal((80, 0, 0, 0), (advice.TargetPercent, advice.Tried, advice.Best.Count, advice.Others.Count));
        AssertNamesWhatHelps(advice);
    }

    private static void AssertNamesWhatHelps(MitigationAdvice advice) => Assert.Superset(
        Advice(FullNight).Best.SelectMany(remedy => remedy.Changes).ToHashSet(),
        advice.Untried.SelectMany(remedy => remedy.Changes).Concat(advice.Others.SelectMany(tried => tried.Changes)).ToHashSet());

    /// <summary>A limit of time is over when the test says so. What repeats goes by the clock of the machine.</summary>
    private sealed class ClockOfTheTest : TimeProvider
    {
        private Action limitIsOver = () => { };

        public void EndTheTime() => limitIsOver();

        public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
        {
            if (period != Timeout.InfiniteTimeSpan) return base.CreateTimer(callback, state, dueTime, period);
            limitIsOver = () => callback(state);
            return base.CreateTimer(callback, state, Timeout.InfiniteTimeSpan, period);
        }
    }

    private static MitigationAdvice Advice(TinyPlan plan, RiskOptions? options = null, TimeProvider? clock = null,
        TimeSpan? most = null, Action<TriedMitigation>? measured = null) =>
        MitigationSearch.Of(plan.Problem, plan.Schedule, options ?? Options,
            RiskSimulation.Of(plan.Problem, plan.Schedule, options ?? Options),
            Limits with { Clock = clock ?? TimeProvider.System }, most: most, measured: measured);
}
