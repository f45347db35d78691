using SetWeek.Model.Changes;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk;
using SetWeek.Planning.Risk.Distributions;
using SetWeek.Planning.Risk.Reports;
using static SetWeek.Planning.Tests.Risk.TinySimulation;

namespace SetWeek.Planning.Tests.Risk;

public sealed class WhatHelpsTests
{
    private static readonly RiskOptions Options = new() { Distribution = DurationDistribution.Triangular, Runs = 4000 };

    /// <summary>
    /// Eight hours to the minute, of which four take 240 to 300: paint is never begun, as in LateNightTests. An hour more takes
    /// both; so do two more hands for stripping, which then lasts 120 to 150 minutes.
    /// </summary>
    [Fact]
    public void A_longer_night_and_more_hands_are_found_where_work_does_not_fit()
    {
        var more = new Func<WeekTask, WeekTask>(task => task with { Modes = [.. task.Modes, new(120, [new("hands", 2)])] });
        var plan = TinyWeek.New.Task("strip", 240, WithEstimate(240, 300).Then(more)).Task("paint", 240).Plan
            .Shift("mon", "ana", "22:00", "06:00").Work("mon", "strip", "22:00", "02:00", "ana")
            .Work("mon", "paint", "02:00", "06:00", "ana");
        var helps = Helps(plan);
        Assert.Equal(2, helps.Best.Count);
        Assert.All(helps.Best,
            one => Assert.Equal((1.0, 1.0, 0.0, false), (one.Launch.Share, one.Gain, one.GainError, one.PlannedAnew)));
        Assert.Contains(helps.Best, one => one.Changes.SequenceEqual([new ExtraPerson("mon", "hands")]));
        Assert.Contains(helps.Best,
            one => one.Changes.SequenceEqual([new NightWindowMoved("mon", Closes: TinyWeek.Local("2027-03-09T07:00"))]));
        Assert.Equal(1, helps.Both!.Value.Share);
    }

    /// <summary>
    /// The flags take the hour that paint would need; without them it fits, and no other single change is as good.
    /// </summary>
    [Fact]
    public void A_want_is_left_out_where_that_is_what_makes_room()
    {
        var plan = TinyWeek.New.Display("flags", flags => flags with { Commitment = DisplayCommitment.Want, Value = 10 })
            .Task("flags", 60, task => task with { Display = "flags" }).Task("strip", 180, WithEstimate(180, 240))
            .Task("paint", 240).Plan
            .Shift("mon", "ana", "22:00", "06:00").Work("mon", "flags", "22:00", "23:00", "ana")
            .Work("mon", "strip", "23:00", "02:00", "ana")
            .Work("mon", "paint", "02:00", "06:00", "ana");
        var helps = Helps(plan);
        Assert.True(helps.Tried >= 3);
        Assert.Contains(Trials(plan), trial => trial.Change == new LeaveOut("flags") && trial.Share == 1);
        Assert.Equal(1, helps.Best[0].Launch.Share);
    }

    [Fact]
    public void Where_all_holds_nothing_has_to_help()
    {
        var plan = TinyWeek.New.Task("strip", 60, WithEstimate(60, 90)).Plan.Shift("mon", "ana", "22:00", "23:00")
            .Work("mon", "strip", "22:00", "23:00", "ana");
        Assert.Empty(Helps(plan).Best);
        Assert.Null(Helps(plan).Both);
    }

    /// <summary>
    /// The kit comes on Wednesday at 21:00, so that all is done that night, of which there is too little; on Tuesday there is
    /// enough.
    /// </summary>
    [Fact]
    public void An_earlier_kit_is_tried_with_another_plan()
    {
        var plan = TinyWeek.New.Kit("props", "2027-03-10T21:00")
            .Night("wed", night => night with { Closes = TinyWeek.Local("2027-03-11T00:00") })
            .Task("strip", 60, WithEstimate(60, 120).Then(task => task with { Needs = [new("props")] })).Task("paint", 60, "strip").Plan
            .Shift("wed", "ana", "22:00", "00:00").Work("wed", "strip", "22:00", "23:00", "ana")
            .Work("wed", "paint", "23:00", "00:00", "ana");
        var report = RiskSimulation.Of(plan.Problem, plan.Schedule, Options);
        Assert.Equal(0, report.Launch.Held);
        Assert.Contains(Trials(plan),
            trial => trial.Change == new KitEtaMoved("props", TinyWeek.Local("2027-03-09T22:00")) && trial.Share == 1);
    }

    [Fact]
    public void The_same_week_gets_the_same_remedies_whatever_the_workers()
    {
        var plan = TinyWeek.New.Task("strip", 240, WithEstimate(200, 300)).Task("paint", 230).Plan
            .Shift("mon", "ana", "22:00", "06:00").Work("mon", "strip", "22:00", "02:00", "ana")
            .Work("mon", "paint", "02:00", "05:50", "ana");
        Assert.Equivalent(Helps(plan, Options with { Workers = 1 }), Helps(plan, Options with { Workers = 3 }), strict: true);
    }

    [Fact]
    public void Whoever_no_longer_wants_to_know_is_told_nothing()
    {
        var plan = TinyWeek.New.Task("strip", 240, WithEstimate(200, 300)).Task("paint", 230).Plan
            .Shift("mon", "ana", "22:00", "06:00").Work("mon", "strip", "22:00", "02:00", "ana")
            .Work("mon", "paint", "02:00", "05:50", "ana");
        var report = RiskSimulation.Of(plan.Problem, plan.Schedule, Options);
        Assert.ThrowsAny<OperationCanceledException>(() =>
            MitigationSearch.Of(plan.Problem, plan.Schedule, Options, report, stop: new CancellationToken(canceled: true)));
    }

    [Fact]
    public void What_there_is_no_time_for_is_said_and_not_called_tried()
    {
        var plan = TinyWeek.New.Task("strip", 240, WithEstimate(240, 300)).Task("paint", 240).Plan
            .Shift("mon", "ana", "22:00", "06:00").Work("mon", "strip", "22:00", "02:00", "ana")
            .Work("mon", "paint", "02:00", "06:00", "ana");
        var report = RiskSimulation.Of(plan.Problem, plan.Schedule, Options);
        var all = MitigationSearch.Of(plan.Problem, plan.Schedule, Options, report, effort: 0.1);
        Assert.Empty(all.Untried);

        var none = MitigationSearch.Of(plan.Problem, plan.Schedule, Options, report, time: TimeSpan.Zero);
        Assert.Equal((0, 0, null), (none.Best.Count, none.Tried, none.Both));
        Assert.Superset(all.Best.SelectMany(one => one.Changes).ToHashSet(),
            none.Untried.SelectMany(one => one.Changes).ToHashSet());
        Assert.All(none.Untried, one => Assert.NotEmpty(one.Sentence));
    }

    private static MitigationAdvice Helps(TinyPlan plan, RiskOptions? options = null) =>
        MitigationSearch.Of(plan.Problem, plan.Schedule, options ?? Options,
            RiskSimulation.Of(plan.Problem, plan.Schedule, options ?? Options), effort: 0.1);

    /// <summary>Every remedy that is tried, with the launch that it gives.</summary>
    private static IEnumerable<(WeekChange Change, double Share)> Trials(TinyPlan plan)
    {
        var report = RiskSimulation.Of(plan.Problem, plan.Schedule, Options);
        foreach (var (remedy, trial) in MitigationSearch.TrialResults(plan.Problem, plan.Schedule, Options, report, 0.1))
            yield return (remedy.Change, trial.Launch.Share);
    }
}
