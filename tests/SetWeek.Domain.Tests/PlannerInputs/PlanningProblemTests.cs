using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.PlannerInputs;

public sealed class PlanningProblemTests
{
    [Fact]
    public void Without_a_published_plan_the_input_is_a_first_plan() =>
        Assert.Null(PlanningProblem.Of(Given(), Crew, MondayEvening).Replan);

    [Fact]
    public void With_a_published_plan_the_input_is_a_replan()
    {
        var replan = PlanningProblem.Of(Given(Published), Crew, MondayEvening).Replan!;
        Assert.Same(Worked, replan.Published);
        Assert.Equal(MondayEvening, replan.Now);
        Assert.Empty(replan.Progress);
    }

    [Fact]
    public void Reports_become_progress_and_now_is_after_them()
    {
        var replan = PlanningProblem.Of(Given(Published,
            new WorkStarted("r1", "feature-wall.paint", 1, "monday", At(21, 50)),
            new CleanDownFinished("r2", "wall", "monday", At(23, 20))), Crew, new LocalDateTime(2027, 3, 8, 23, 20)).Replan!;
        Assert.Equal(new LocalDateTime(2027, 3, 8, 23, 21), replan.Now);
        Assert.Equal(
        [
            new ProgressReport { Task = "feature-wall.paint", Stint = 1, State = WorkState.Running, From = At(21, 50) },
            new ProgressReport { Night = "monday", CleanDown = "wall", State = WorkState.Done, From = At(23, 0),
                To = At(23, 20) },
        ], replan.Progress);
    }

    [Fact]
    public void A_finish_before_the_planned_start_keeps_the_planned_duration()
    {
        var replan = PlanningProblem.Of(Given(Published, new WorkFinished("r1", "feature-wall.paint", 2, "monday", At(22, 10))),
            Crew, MondayEvening.PlusHours(2)).Replan!;
        Assert.Equal((At(21, 40), At(22, 10)), (replan.Progress[0].From!.Value, replan.Progress[0].To!.Value));
    }

    [Fact]
    public void Reported_work_that_the_published_plan_does_not_have_counts_as_not_begun() =>
        Assert.Empty(PlanningProblem.Of(Given(Published, new WorkStarted("r1", "feature-wall.refit", 1, "tuesday", At(22, 0))),
            Crew, MondayEvening).Replan!.Progress);

    /// <summary>An absence or an erasure is a fact that no pin of that person can outweigh.</summary>
    [Fact]
    public void Pins_of_people_who_cannot_come_lapse()
    {
        Pin[] pins =
        [
            new ShiftPin("p1", "monday"), new ShiftPin("p2", "monday"), new ShiftPin("p2", "tuesday"),
            new StintPin("cycle.tie") { Night = "monday", People = ["p1", "p2"] }, new StintPin("cycle.tie") { People = ["p2"] },
        ];
        Assert.Equivalent(pins, PinsOf(Crew), strict: true);
        Assert.Equivalent(
            new Pin[]
            {
                pins[0], pins[2], new StintPin("cycle.tie") { Night = "monday", People = ["p1"] }, pins[4],
            },
            PinsOf(Crew, new PersonAbsent("p2", "monday")), strict: true);
        Assert.Equivalent(
            new Pin[]
            {
                pins[0], new StintPin("cycle.tie") { Night = "monday", People = ["p1"] }, new StintPin("cycle.tie"),
            },
            PinsOf(Crew.Without("p2"), new PersonErased("p2")), strict: true);

        IReadOnlyList<Pin> PinsOf(CrewFile crew, params IWeekEvent[] events) => PlanningProblem.WeekOf(
            events.Prepend(Opened with { Week = Opened.Week with { Pins = pins } })
                .Aggregate((StoreWeek?)null, StoreWeek.Evolve)!, crew).Pins;
    }

    [Fact]
    public void The_hash_depends_on_every_decision_and_not_on_the_time_or_on_reported_work()
    {
        var hash = PlanningProblem.Of(Given(Published), Crew, MondayEvening).Hash();
        Assert.Equal(hash, PlanningProblem.Of(Given(Published), Crew, MondayEvening.PlusHours(1)).Hash());
        Assert.NotEqual(hash, PlanningProblem.Of(Given(), Crew, MondayEvening).Hash());
        Assert.NotEqual(hash, PlanningProblem.Of(Given(Published, new KitDelayed("paint", null)), Crew, MondayEvening).Hash());
        Assert.Equal(hash, PlanningProblem.Of(Given(Published,
            new WorkStarted("r1", "feature-wall.paint", 1, "monday", At(21, 50))), Crew, MondayEvening).Hash());
        Assert.NotEqual(hash, PlanningProblem.Of(Given(Published), Crew.With(Crew.Members[0] with { RatePerHour = 1 }),
            MondayEvening).Hash());
    }
}
