using SetWeek.Model.Changes;
using SetWeek.Model.Durations;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk;
using SetWeek.Planning.Risk.Mitigations;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Planning.Risk.Simulation;
using SetWeek.Planning.Search;
using static SetWeek.Planning.Tests.Risk.TinySimulation;

namespace SetWeek.Planning.Tests.Risk;

public sealed class MitigationSearchTests
{
    private static readonly RiskOptions Options = new() { Distribution = DurationDistribution.Triangular, Runs = 4000 };

    /// <summary>
    /// The plan fills the night of eight hours, but stripping takes 240 to 300 minutes, so painting never starts. One
    /// withSecondMode hour suffices for both. So does an extra person for stripping, which then takes 120 to 150 minutes.
    /// </summary>
    [Fact]
    public void A_longer_night_and_an_extra_person_are_found()
    {
        var withSecondMode = new Func<WeekTask, WeekTask>(task =>
            task with { Modes = [.. task.Modes, new(120, [new("hands", 2)])] });
        var plan = TinyWeek.New.Task("strip", 240, WithEstimate(240, 300).Then(withSecondMode)).Task("paint", 240).Plan
            .Shift("mon", "ana", "22:00", "06:00").Work("mon", "strip", "22:00", "02:00", "ana")
            .Work("mon", "paint", "02:00", "06:00", "ana");
        var advice = Advice(plan);
        Assert.Equal(2, advice.Best.Count);
        Assert.All(advice.Best,
            remedy => Assert.Equal((1.0, 1.0, 0.0, false), (remedy.Launch.Share, remedy.Gain, remedy.GainError,
                remedy.PlannedAnew)));
        Assert.Contains(advice.Best, remedy => remedy.Changes.SequenceEqual([new ExtraPerson("mon", "hands")]));
        Assert.Contains(advice.Best,
            remedy => remedy.Changes.SequenceEqual([new NightWindowMoved("mon", Closes: TinyWeek.Local("2027-03-09T07:00"))]));
        Assert.Equal(1, advice.Both!.Value.Share);
    }

    /// <summary>
    /// The flags take an hour that painting needs. Without the flags all work fits.
    /// </summary>
    [Fact]
    public void Leaving_out_a_want_is_found()
    {
        var plan = TinyWeek.New.Display("flags", flags => flags with { Commitment = DisplayCommitment.Want, Value = 10 })
            .Task("flags", 60, task => task with { Display = "flags" }).Task("strip", 180, WithEstimate(180, 240))
            .Task("paint", 240).Plan
            .Shift("mon", "ana", "22:00", "06:00").Work("mon", "flags", "22:00", "23:00", "ana")
            .Work("mon", "strip", "23:00", "02:00", "ana")
            .Work("mon", "paint", "02:00", "06:00", "ana");
        var advice = Advice(plan);
        Assert.True(advice.Tried >= 3);
        Assert.Contains(Trials(plan), trial => trial.Change == new LeaveOut("flags") && trial.Share == 1);
        Assert.Equal(1, advice.Best[0].Launch.Share);
    }

    [Fact]
    public void A_plan_without_risk_needs_no_remedy()
    {
        var plan = TinyWeek.New.Task("strip", 60, WithEstimate(60, 90)).Plan.Shift("mon", "ana", "22:00", "23:00")
            .Work("mon", "strip", "22:00", "23:00", "ana");
        Assert.Empty(Advice(plan).Best);
        Assert.Null(Advice(plan).Both);
    }

    /// <summary>
    /// The kit comes on Wednesday at 21:00, so all work is in that short night. On Tuesday there is enough time.
    /// </summary>
    [Fact]
    public void An_earlier_kit_is_tried_with_a_new_plan()
    {
        var plan = TinyWeek.New.Kit("props", "2027-03-10T21:00")
            .Night("wed", night => night with { Closes = TinyWeek.Local("2027-03-11T00:00") })
            .Task("strip", 60, WithEstimate(60, 120).Then(task => task with { Needs = [new("props")] }))
            .Task("paint", 60, "strip").Plan
            .Shift("wed", "ana", "22:00", "00:00").Work("wed", "strip", "22:00", "23:00", "ana")
            .Work("wed", "paint", "23:00", "00:00", "ana");
        var report = RiskSimulation.Of(plan.Problem, plan.Schedule, Options);
        Assert.Equal(0, report.Launch.Held);
        Assert.Contains(Trials(plan),
            trial => trial.Change == new KitEtaMoved("props", TinyWeek.Local("2027-03-09T22:00")) && trial.Share == 1);
    }

    [Fact]
    public void The_number_of_workers_has_no_effect_on_the_remedies()
    {
        var plan = TinyWeek.New.Task("strip", 240, WithEstimate(200, 300)).Task("paint", 230).Plan
            .Shift("mon", "ana", "22:00", "06:00").Work("mon", "strip", "22:00", "02:00", "ana")
            .Work("mon", "paint", "02:00", "05:50", "ana");
        Assert.Equivalent(Advice(plan, Options with { Workers = 1 }), Advice(plan, Options with { Workers = 3 }), strict: true);
    }

    [Fact]
    public void Cancellation_ends_the_search_with_an_exception()
    {
        var plan = TinyWeek.New.Task("strip", 240, WithEstimate(200, 300)).Task("paint", 230).Plan
            .Shift("mon", "ana", "22:00", "06:00").Work("mon", "strip", "22:00", "02:00", "ana")
            .Work("mon", "paint", "02:00", "05:50", "ana");
        var report = RiskSimulation.Of(plan.Problem, plan.Schedule, Options);
        Assert.ThrowsAny<OperationCanceledException>(() =>
            MitigationSearch.Of(plan.Problem, plan.Schedule, Options, report, stop: new CancellationToken(canceled: true)));
    }

    [Fact]
    public void Remedies_without_time_to_try_them_are_listed_as_untried()
    {
        var plan = TinyWeek.New.Task("strip", 240, WithEstimate(240, 300)).Task("paint", 240).Plan
            .Shift("mon", "ana", "22:00", "06:00").Work("mon", "strip", "22:00", "02:00", "ana")
            .Work("mon", "paint", "02:00", "06:00", "ana");
        var report = RiskSimulation.Of(plan.Problem, plan.Schedule, Options);
        var all = MitigationSearch.Of(plan.Problem, plan.Schedule, Options, report, effort: 0.1);
        Assert.Empty(all.Untried);

        var none = MitigationSearch.Of(plan.Problem, plan.Schedule, Options, report, time: TimeSpan.Zero);
        Assert.Equal((0, 0, null), (none.Best.Count, none.Tried, none.Both));
        Assert.Superset(all.Best.SelectMany(remedy => remedy.Changes).ToHashSet(),
            none.Untried.SelectMany(remedy => remedy.Changes).ToHashSet());
        Assert.All(none.Untried, remedy => Assert.NotEmpty(remedy.Sentence));
    }

    private static MitigationAdvice Advice(TinyPlan plan, RiskOptions? options = null) =>
        MitigationSearch.Of(plan.Problem, plan.Schedule, options ?? Options,
            RiskSimulation.Of(plan.Problem, plan.Schedule, options ?? Options), effort: 0.1);

    /// <summary>Each remedy that is tried, with the resulting probability of the launch.</summary>
    private static IEnumerable<(WeekChange Change, double Share)> Trials(TinyPlan plan)
    {
        var report = RiskSimulation.Of(plan.Problem, plan.Schedule, Options);
        var limits = new SearchLimits { Effort = 0.1, Workers = 1 };
        var unchanged = new MitigationCase(
            plan.Problem.Week, plan.Problem.Week, plan.Schedule, plan.Problem.Replan, limits, CancellationToken.None);
        foreach (var candidate in MitigationProposals.For(plan.Problem, plan.Schedule, Options, report))
            if (candidate.Apply(unchanged) is { } changed)
                yield return (candidate.Change, SimulationSample.Of(changed, Options).Launch.Share);
    }
}
