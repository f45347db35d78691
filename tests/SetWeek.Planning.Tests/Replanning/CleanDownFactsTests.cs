using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Tests;
using SetWeek.Planning.Replanning;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Replanning;

/// <summary>Reports of clean-downs that nobody finished, or that name another night than that of their times.</summary>
public sealed class CleanDownFactsTests
{
    private static readonly SearchLimits Short = new() { Effort = 0.3, Workers = 1 };

    private static readonly TinyWeek Tiny = TinyWeek.New.CleanDown("wall", 10).Task("mask", 60).Task("paint", 60);

    private static readonly TinyPlan Published = Tiny.Plan
        .Shift("mon", "ana", "22:00", "06:00").Shift("mon", "bo", "22:00", "06:00")
        .Shift("tue", "ana", "22:00", "06:00").Shift("tue", "bo", "22:00", "06:00")
        .Work("mon", "mask", "22:00", "23:00", "ana").CleanDown("mon", "wall", "23:00", "23:10", "bo")
        .Work("tue", "paint", "22:00", "23:00", "ana").CleanDown("tue", "wall", "23:00", "23:10", "bo");

    private static readonly ProgressReport Mask = Published.Report("mon", "mask", WorkState.Done, "22:00", "23:00");

    [Theory, InlineData("2027-03-09T05:30"), InlineData("2027-03-09T12:00"), InlineData("2027-03-09T22:00"),
        InlineData("2027-03-09T22:31")]
    public void A_clean_down_that_nobody_finished_ends_with_its_night(string now)
    {
        var replan = new Replan(Published.AsPlan, TinyWeek.Local(now),
            [Mask, Published.ReportCleanDown("mon", "wall", WorkState.Running, "23:02")]);
        var begun = Assert.Single(Problem.Of(Tiny.Week, replan).Facts!.BegunCleanDowns);
        Assert.True(begun.To <= Published.Problem.Nights[0].Closes);
        AssertPlanned(replan);
    }

    [Theory, InlineData(WorkState.Done, "2027-03-10T12:00"), InlineData(WorkState.Running, "2027-03-09T22:20")]
    public void A_clean_down_reported_at_a_time_of_another_night_belongs_to_the_end_of_its_own(WorkState state, string now)
    {
        var report = Published.ReportCleanDown("tue", "wall", state, "22:05", state == WorkState.Done ? "22:15" : null);
        var replan = new Replan(Published.AsPlan, TinyWeek.Local(now), [Mask, report with { Night = "mon" }]);
        var begun = Assert.Single(Problem.Of(Tiny.Week, replan).Facts!.BegunCleanDowns);
        Assert.Equal((0, Published.Problem.Nights[0].Closes), (begun.Night, begun.To));
        AssertPlanned(replan);
    }

    /// <summary>Bo did the masking in the place of Ana, who was in the store, and Cy came who was not planned at all.</summary>
    [Theory, InlineData("bo"), InlineData("cy"), InlineData("bo", "cy")]
    public void Work_done_by_others_than_planned_can_be_planned_on(params string[] people) => AssertPlanned(new Replan(
        Published.AsPlan, TinyWeek.Local("2027-03-08T22:40"),
        [Published.Report("mon", "mask", WorkState.Running, "22:05") with { People = people }]));

    private static void AssertPlanned(Replan replan)
    {
        PlannerTests.AssertFeasible(Tiny.Week, Planner.Plan(Tiny.Week, Short, replan), replan);
        Assert.NotEmpty(OptionSearch.Find(Tiny.Week, Short, replan).Options);
    }
}
