using NodaTime;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Revisions;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Changes;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Revisions;

/// <summary>On Monday at 21:45 the first part of the wall's paint was begun.</summary>
public sealed class BegunWorkTests
{
    private static readonly LocalDateTime Later = new(2027, 3, 8, 22, 0);
    private static readonly StoreWeek Begun = Given(Published, new WorkStarted("r1", "feature-wall.paint", 1, "monday", At(21, 45)));

    public static TheoryData<string, Func<Week, Week>> Contradictions => new()
    {
        { "The night of Mon 8 Mar has begun", week => week.WithoutNight("monday") },
        { "The night of Mon 8 Mar has begun with “Paint the wall” at Mon 8 Mar, 21:45, so its window has to contain that time.",
            week => week.With(week.Nights[0] with { Opens = new(2027, 3, 8, 21, 50) }) },
        { "“Paint the wall” has begun, so it cannot be dropped.", week => week.WithoutTask("feature-wall.paint") },
        { "“Paint the wall” has begun, so it keeps its display", week => week.With(week.Tasks[0] with { Zone = "floor" }) },
        { "“Paint the wall” has begun, so it keeps its display", week => week.With(week.Tasks[0] with { Stints = 3 }) },
        { "“Paint the wall” has begun, so it keeps its display", week => week.With(week.Tasks[0] with { Display = "cycle.panel" }) },
        { "“Paint the wall” has begun, so it keeps its display",
            week => week.With(week.Tasks[0] with { Modes = [new Mode(60, [new SkillRequirement("painting", 2)])] }) },
        { "Work on “Painted wall” has begun, so it stays", week => WeekChange.Apply(week, [new LeaveOut("feature-wall")]) },
        { "Work on “Painted wall” has begun, so it stays", week => week with
            {
                Displays = [week.Displays[1]], Tasks = [.. week.Tasks.Where(task => task.Display == "cycle.panel")],
                Kits = [],
            } },
    };

    [Theory]
    [MemberData(nameof(Contradictions))]
    public void What_contradicts_begun_work_is_refused_with_its_reason(string reason, Func<Week, Week> edit)
    {
        var refusal = Begun.Revise(Crew, edit(PlanningProblem.WeekOf(Begun, Crew)), Later, "lena").AsT1;
        Assert.Equal("work-begun", refusal.Code);
        Assert.Contains(refusal.Because, sentence => sentence.StartsWith(reason, StringComparison.Ordinal));
        // Without the report, the same is possible as long as the night has not begun.
        Assert.True(Given(Published).Revise(Crew, edit(PlanningProblem.WeekOf(Given(Published), Crew)), MondayEvening, "lena").IsT0);
    }

    [Fact]
    public void Begun_work_may_take_longer_and_other_work_may_change()
    {
        var events = Begun.Revise(Crew, WeekChange.Apply(PlanningProblem.WeekOf(Begun, Crew),
            [new TaskMinutes("feature-wall.paint", 120), new LeaveOut("cycle.panel")]), Later, "lena").AsT0.Events;
        Assert.Equal(["DisplayChoiceSet", "TasksRevised"], events.Select(e => e.GetType().Name));
    }

    [Fact]
    public void A_night_with_published_shifts_that_is_open_now_is_not_dropped_even_without_a_report()
    {
        var week = Given(Published);
        var wanted = PlanningProblem.WeekOf(week, Crew).WithoutNight("monday");
        Assert.Equal("work-begun", week.Revise(Crew, wanted, Later, "lena").AsT1.Code);
        Assert.True(week.Revise(Crew, wanted, MondayEvening, "lena").IsT0);
    }

    [Fact]
    public void A_zone_keeps_a_clean_down_that_has_begun()
    {
        var week = Given(Published, new CleanDownStarted("r2", "wall", "monday", At(23, 0)));
        var wanted = PlanningProblem.WeekOf(week, Crew);
        var refusal = week.Revise(Crew, wanted.With(wanted.Store.Zones[0] with { CleanDown = null }), new(2027, 3, 8, 23, 5), "lena");
        Assert.Equal("The clean-down of Feature wall has begun, so the zone keeps it.", refusal.AsT1.Because.Single());
    }

    [Fact]
    public void A_reported_time_in_another_offset_is_read_in_the_stores_time()
    {
        var abroad = Given(Published,
            new WorkStarted("r1", "feature-wall.paint", 1, "monday", At(21, 45).ToInstant().WithOffset(Offset.FromHours(5))));
        var wanted = PlanningProblem.WeekOf(abroad, Crew);
        Assert.True(abroad.Revise(Crew, wanted.With(wanted.Nights[0] with { Opens = new(2027, 3, 8, 21, 40) }), Later, "lena").IsT0);
    }
}
