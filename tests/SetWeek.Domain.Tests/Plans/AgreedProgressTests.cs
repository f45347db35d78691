using NodaTime;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Plans;

/// <summary>
/// A re-plan that was computed before the night and equals the published plan, and what the floor reports until it is published.
/// Ben paints from 21:45 to 22:15 and from 22:15 to 22:45, then Asha does the clean-down from 23:00 to 23:15.
/// </summary>
public sealed class AgreedProgressTests
{
    private const string Paint = "feature-wall.paint";

    [Theory]
    [InlineData(21, 45), InlineData(21, 52), InlineData(21, 36), InlineData(21, 55)]
    public void Work_begun_within_ten_minutes_of_the_plan_breaks_nothing(int hour, int minute) =>
        Assert.Empty(BreachesAt(22, 0, Started(1, At(hour, minute))));

    [Fact]
    public void Work_begun_and_finished_nearly_as_planned_breaks_nothing() =>
        Assert.Empty(BreachesAt(22, 30, Started(1, At(21, 50)), Finished(1, At(22, 21)), Started(2, At(22, 22))));

    /// <summary>Eleven minutes late, so the second stint, which the same person does next, cannot start as planned.</summary>
    [Fact]
    public void Work_begun_later_than_that_differs_from_the_plan()
    {
        var breach = Assert.Single(BreachesAt(22, 0, Started(1, At(21, 56))), breach => breach.Rule == RuleId.Frozen);
        Assert.Equal((Paint, 1), (breach.About.Task, breach.About.Stint));
    }

    [Fact]
    public void Work_done_by_others_differs_from_the_plan()
    {
        Assert.Empty(BreachesAt(22, 0, Started(1, At(21, 50)) with { People = ["p2"] }));
        Assert.NotEmpty(BreachesAt(22, 0, Started(1, At(21, 50)) with { People = ["p1"] }));
    }

    [Fact]
    public void Blocked_work_whose_time_comes_too_late_breaks_the_plan_and_an_early_enough_one_does_not()
    {
        var blocked = new WorkBlocked("r3", Paint, 2, At(21, 50), "no-power", null, At(22, 15));
        Assert.Empty(BreachesAt(22, 0, Started(1, At(21, 45)), blocked));
        Assert.NotEmpty(BreachesAt(22, 0, Started(1, At(21, 45)), blocked with { Until = At(22, 30) }));
    }

    [Fact]
    public void Work_that_should_have_begun_and_was_not_reported_breaks_the_plan() =>
        Assert.Contains(BreachesAt(22, 0), breach => breach.Rule == RuleId.Frozen);

    [Fact]
    public void Work_that_should_have_ended_some_minutes_ago_is_taken_as_done()
    {
        Assert.Empty(BreachesAt(22, 20, Started(1, At(21, 45)), Started(2, At(22, 18))));
        Assert.NotEmpty(BreachesAt(22, 40, Started(1, At(21, 45)), Started(2, At(22, 18))));
    }

    /// <summary>What the service derives, and questions, change nothing that the planner reads.</summary>
    [Fact]
    public void Derived_events_and_questions_do_not_overtake_a_plan()
    {
        IWeekEvent[] unrelated =
        [
            new PlanBroken("plan-1", RuleId.Kit, null, null, null, null, "", null), new PlanHoldsAgain("plan-1"),
            new QuestionAsked("q1", null, null, null, Addressee.Lead, At(21, 0)), new QuestionAnswered("q1", Addressee.Lead, false),
        ];
        Assert.All(unrelated, e => Assert.True(PublishCheck.IsFloorFact(e)));
        Assert.False(PublishCheck.IsFloorFact(new KitDelayed("paint", null)));
    }

    private static IReadOnlyList<Breach> BreachesAt(int hour, int minute, params IWeekEvent[] reports)
    {
        var week = Given([Published, .. reports]);
        return [.. PublishCheck.Breaches(week,
            PlanningProblem.Of(week, Crew, new LocalDateTime(2027, 3, 8, hour, minute)), Worked)
            // The small plan leaves out the other displays of the example.
            .Where(breach => breach.Rule != RuleId.Whole)];
    }

    private static WorkStarted Started(int stint, OffsetDateTime at) => new($"s{stint}", Paint, stint, "monday", at);

    private static WorkFinished Finished(int stint, OffsetDateTime at) => new($"f{stint}", Paint, stint, "monday", at);
}
