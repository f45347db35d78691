using NodaTime;
using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using static SetWeek.Model.Plans.WorkState;

namespace SetWeek.Model.Tests.Problems;

/// <summary>What a re-plan takes as fixed, from the published plan and the progress reports.</summary>
public sealed class ReplanFactsTests
{
    /// <summary>
    /// Filling has two modes and two stints. The published plan does its first stint in mode 1, which takes an hour, with Bo
    /// and Cy.
    /// </summary>
    private static readonly TinyWeek Week = TinyWeek.New
        .Task("fill", 200, task => task with { Stints = 2, Modes = [.. task.Modes, new(120, [new("hands", 2)])] });

    private static readonly TinyPlan Published = Week.Plan
        .Shift("mon", "bo", "22:00", "06:00").Shift("mon", "cy", "22:00", "06:00").Shift("tue", "ana", "22:00", "02:00")
        .Stint("mon", "fill", 1, 1, "22:00", "23:00", "bo", "cy").Stint("tue", "fill", 2, 0, "22:00", "23:40", "ana");

    private static ReplanFacts At(string now, params ProgressReport[] progress) =>
        Week.Replan(Published, now, progress).Problem.Facts!;

    private static string Clock(int minute) => Week.Problem.Grid.TimeOf(minute).ToString("ddd HH:mm", null);

    private static string Span(ScheduledWork? work) => $"{Clock(work!.From)} {Clock(work.To)}";

    [Fact]
    public void Begun_work_has_its_published_people_and_mode_and_its_reported_times()
    {
        var begun = At("2027-03-09T00:00", Published.Report("mon", "fill", Done, "22:07", "23:21")).BegunWork[0]!;
        Assert.Equal(1, begun.Mode);
        Assert.Equal(["bo", "cy"], begun.Assignments.Select(assignment => Week.Week.Crew[assignment.Person].Id));
        Assert.Equal("Mon 22:07 Mon 23:21", Span(begun));
    }

    [Theory]
    [InlineData("23:30", null, "Mon 23:30")] // the reported end
    [InlineData("23:30", 5, "Mon 23:30")] // the reported end comes before the remaining minutes
    [InlineData(null, 25, "Mon 23:07")] // now, 22:42, plus the remaining minutes
    [InlineData(null, null, "Mon 23:03")] // the reported start plus the duration of an hour
    [InlineData("22:30", null, "Mon 22:45")] // the reported end is past: the first slot at or after now
    public void The_expected_end_of_running_work_comes_from_its_report(string? to, int? remaining, string end) =>
        Assert.Equal($"Mon 22:03 {end}",
        Span(At("2027-03-08T22:42", Published.Report("mon", "fill", Running, "22:03", to, remaining: remaining)).BegunWork[0]));

    [Fact]
    public void Overdue_running_work_ends_at_the_next_slot() => Assert.Equal("Mon 22:03 Tue 00:15",
        Span(At("2027-03-09T00:11", Published.Report("mon", "fill", Running, "22:03")).BegunWork[0]));

    [Fact]
    public void A_time_with_seconds_is_rounded_up_to_the_next_minute() =>
        Assert.Equal(60, ReplanFacts.Of(Week.Problem, new Replan(Published.AsPlan,
            TinyWeek.Local("2027-03-08T22:59").PlusSeconds(1), [])).Now);

    [Fact]
    public void Work_and_shifts_that_start_before_now_have_begun()
    {
        Assert.Null(At("2027-03-08T22:00", Published.Report("mon", "fill", Running, "22:00")).BegunWork[0]);
        Assert.NotNull(At("2027-03-08T22:01", Published.Report("mon", "fill", Running, "22:00")).BegunWork[0]);
        Assert.Empty(At("2027-03-08T22:00").BegunShifts);
        Assert.Equal(2, At("2027-03-08T22:01").BegunShifts.Count());
        Assert.Equal(2, At("2027-03-09T05:59").BegunShifts.Count());
        Assert.Equal(2, At("2027-03-09T06:00").EndedShifts.Count());
    }

    /// <summary>Ana comes for Cy. She had no shift that night, so she gets one around the work; Cy keeps his shift.</summary>
    [Fact]
    public void The_people_who_really_did_begun_work_get_its_hours()
    {
        var report = Published.Report("mon", "fill", Done, "22:07", "23:21") with { People = ["bo", "ana"] };
        var facts = At("2027-03-09T00:00", report);
        Assert.Equal(["ana", "bo"], facts.BegunWork[0]!.Assignments.Select(assigned => Week.Week.Crew[assigned.Person].Id).Order());
        var shift = Assert.Single(facts.Published.Shifts, shift => shift.Night == 0 && Week.Week.Crew[shift.Person].Id == "ana");
        Assert.True(shift.From <= facts.BegunWork[0]!.From && shift.To >= facts.BegunWork[0]!.To);
        Assert.Equal(3, facts.Published.Shifts.Count(shift => shift.Night == 0));
    }

    /// <summary>Cy cleans down in place of Bo. He had no shift that night, so he gets one around it; Bo keeps his.</summary>
    [Fact]
    public void The_people_who_really_did_a_clean_down_get_its_hours()
    {
        var week = TinyWeek.New.Task("fill", 60).CleanDown("floor", 20);
        var plan = week.Plan.Shift("mon", "bo", "22:00", "02:00").Work("mon", "fill", "22:00", "23:00", "bo")
            .CleanDown("mon", "floor", "23:00", "23:20", "bo");
        var report = plan.ReportCleanDown("mon", "floor", Done, "23:05", "23:40") with { People = ["cy"] };
        var facts = week.Replan(plan, "2027-03-09T00:00", plan.Report("mon", "fill", Done, "22:00", "23:00"), report)
            .Problem.Facts!;
        Assert.Equal(new Assignment(week.Problem.PersonOf("cy"), week.Problem.Zones[week.Problem.ZoneOf("floor")].CleanDown!.RequiredSkills[0].Skill),
            Assert.Single(Assert.Single(facts.BegunCleanDowns).Assignments));
        var shift = Assert.Single(facts.Published.Shifts, shift => shift.Person == week.Problem.PersonOf("cy"));
        Assert.Equal(("Mon 23:05", "Mon 23:40"), (Clock(shift.From), Clock(shift.To)));
        Assert.Equal(2, facts.Published.Shifts.Count);
    }

    /// <summary>The published plan may be older than the week: its task, its stint or its mode may be gone.</summary>
    [Theory]
    [InlineData("fill")]
    [InlineData("another")]
    public void Reports_on_work_that_the_week_has_no_longer_are_skipped(string task)
    {
        var facts = ReplanFacts.Of(TinyWeek.New.Task(task, 200).Problem, new Replan(Published.AsPlan,
            TinyWeek.Local("2027-03-10T00:00"),
            [
                Published.Report("mon", "fill", Done, "22:00", "23:00"),
                Published.Report("tue", "fill", Done, "22:00", "23:40", stint: 2),
                new ProgressReport { CleanDown = "roof", Night = "mon", State = Done },
                new ProgressReport { CleanDown = "roof", Night = "sun", State = Done },
            ]));
        Assert.Null(Assert.Single(facts.BegunWork));
        Assert.False(Assert.Single(facts.HasBegun));
        Assert.Empty(facts.BegunCleanDowns);
    }

    [Fact]
    public void Work_whose_planned_people_are_all_erased_has_its_reported_people_with_a_skill_of_its_mode()
    {
        var erased = Week.With(week => week with { Crew = [.. week.Crew.Where(person => person.Id == "ana")] });
        var problem = Problem.Of(erased.Week, new Replan(Published.AsPlan, TinyWeek.Local("2027-03-09T00:00"),
            [Published.Report("mon", "fill", Done, "22:07", "23:21") with { People = ["ana"] }]));
        var work = PlanConverter.NightsOf(problem, problem.Facts!.PublishedWithActuals)[0].Work;
        Assert.Equal(new PlannedPerson("ana", "hands"), Assert.Single(Assert.Single(work).People));
    }

    [Fact]
    public void Work_begun_in_another_night_than_planned_belongs_to_the_night_of_its_start()
    {
        var begun = At("2027-03-09T01:00", Published.Report("mon", "fill", Done, "00:00", "00:45", stint: 2)).BegunWork[1]!;
        Assert.Equal((0, 0), (begun.Night, begun.Mode));
        Assert.Equal(["ana"], begun.Assignments.Select(assignment => Week.Week.Crew[assignment.Person].Id));
    }

    [Fact]
    public void Blocked_work_starts_after_its_reported_time_or_never()
    {
        Assert.Equal("Tue 00:00", Clock(At("2027-03-08T22:42", Published.Report("mon", "fill", Blocked, until: "00:00"))
            .EarliestStarts[0]));
        Assert.Equal(Problem.Never, At("2027-03-08T22:42", Published.Report("mon", "fill", Blocked)).EarliestStarts[0]);
    }

    [Theory]
    [InlineData(23, 25)] // the remaining minutes, rounded up to the grid
    [InlineData(null, 60)] // none reported: the whole stint
    public void Blocked_work_that_had_begun_keeps_its_mode_and_its_remaining_minutes(int? remaining, int minutes)
    {
        var problem = Week.Replan(Published, "2027-03-08T22:42",
            Published.Report("mon", "fill", Blocked, "22:00", remaining: remaining, until: "23:00")).Problem;
        Assert.Null(problem.Facts!.BegunWork[0]);
        Assert.Equal(1, problem.Facts.FixedModes[0]);
        Assert.Equal(minutes, problem.MinutesOf(problem.Stints[0], 1));
        Assert.True(problem.Facts.StaysPlaced[0]);
    }

    [Fact]
    public void Blocked_work_that_had_not_begun_may_change()
    {
        var facts = At("2027-03-08T22:42", Published.Report("mon", "fill", Blocked, until: "23:00"));
        Assert.Null(facts.FixedModes[0]);
        Assert.False(facts.StaysPlaced[0]);
    }

    [Fact]
    public void Reopened_work_is_planned_again_and_its_display_stays()
    {
        var facts = At("2027-03-09T00:00", Published.Report("mon", "fill", Reopened));
        Assert.Null(facts.BegunWork[0]);
        Assert.Null(facts.FixedModes[0]);
        Assert.True(facts.EarliestStarts[0] < 0);
        Assert.True(facts.StaysPlaced[0]);
    }

    [Fact]
    public void The_last_report_of_a_stint_counts() => Assert.Null(At("2027-03-09T00:00",
        Published.Report("mon", "fill", Done, "22:00", "23:00"), Published.Report("mon", "fill", Reopened)).BegunWork[0]);

    /// <summary>
    /// It is 22:50 and the shift grid is 15 minutes, so Ana can leave at 23:00. Bo's work runs until 23:07, so he can leave at
    /// 23:15. Cy's begun break lasts until 23:20, so Cy can leave at 23:30.
    /// </summary>
    [Fact]
    public void A_begun_shift_ends_after_now_its_running_work_and_its_begun_break()
    {
        var week = TinyWeek.New.Rules(new() { ShiftGridMinutes = 15 }).Task("mask", 60);
        var published = week.Plan.Shift("mon", "ana", "22:00", "06:00").Shift("mon", "bo", "22:00", "06:00")
            .Shift("mon", "cy", "22:00", "06:00", "22:45", "23:20").Work("mon", "mask", "22:00", "23:00", "bo");
        var problem = week.Replan(published, "2027-03-08T22:50", published.Report("mon", "mask", Running, "22:07")).Problem;
        Assert.Equal(["Mon 23:00", "Mon 23:15", "Mon 23:30"],
            new[] { "ana", "bo", "cy" }.Select(person => Clock(problem.Facts!.EarliestEnds[(problem.PersonOf(person), 0)])));
    }

    /// <summary>Everything happens as planned, so at every quarter of an hour the published plan breaks no rule.</summary>
    [Fact]
    public void A_published_plan_executed_to_the_minute_stays_feasible()
    {
        var week = TinyWeek.New.CleanDown("wall", 10).Task("mask", 60).Task("paint", 60, after: "mask", dry: 120)
            .Task("sign", 30, "paint")
            .Rules(new()
            {
                MinRestMinutes = 660, MinShiftMinutes = 180, BreakAfterMinutes = 240, BreakMinutes = 20, MinPeople = 2,
                KeyholderPresent = true, OpeningMinutes = 30, ClosingMinutes = 30, ShiftGridMinutes = 15,
            });
        var published = week.Plan.Keyholder("mon", "ana").Keyholder("tue", "bo")
            .Shift("mon", "ana", "22:00", "03:15", "00:00", "00:20").Shift("mon", "cy", "22:00", "03:15", "00:20", "00:40")
            .Work("mon", "mask", "22:30", "23:30", "ana").Work("mon", "paint", "01:30", "02:30", "cy")
            .CleanDown("mon", "wall", "02:30", "02:40", "ana")
            .Shift("tue", "bo", "22:00", "02:00").Shift("tue", "cy", "22:00", "02:00")
            .Work("tue", "sign", "22:30", "23:00", "bo").CleanDown("tue", "wall", "23:00", "23:10", "cy");
        Assert.Empty(published.BrokenRules);
        for (var minutes = 0; minutes < 60 * 60; minutes += 15)
        {
            var now = TinyWeek.Local("2027-03-08T20:00").PlusMinutes(minutes);
            var problem = Problem.Of(week.Week, new Replan(published.AsPlan, now, [.. AsPlanned(published, now)]));
            Assert.Empty(Checker.Check(problem, problem.Facts!.PublishedWithActuals));
            Assert.Empty(Checker.UnavoidableBreaches(problem, problem.Facts.PublishedWithActuals));
        }
    }

    /// <summary>Reports of work that began and ended exactly as planned.</summary>
    private static IEnumerable<ProgressReport> AsPlanned(TinyPlan plan, LocalDateTime now) =>
        from work in plan.Schedule.Work
        where work.From < plan.Problem.Grid.MinuteOf(now)
        let done = work.To <= plan.Problem.Grid.MinuteOf(now)
        select new ProgressReport
        {
            Task = work.Stint is { } stint ? plan.Problem.Stints[stint].Task.Id : null,
            Night = work.IsCleanDown ? plan.Problem.Nights[work.Night].Id : null,
            CleanDown = work.IsCleanDown ? plan.Problem.Zones[work.Zone].Id : null,
            State = done ? Done : Running,
            From = plan.Problem.Grid.TimeOf(work.From),
            To = done ? plan.Problem.Grid.TimeOf(work.To) : null,
        };

    [Fact]
    public void The_published_shifts_of_somebody_who_left_the_crew_are_dropped()
    {
        var week = Week.With(week => week with { Crew = [.. week.Crew.Where(member => member.Id != "cy")] });
        Assert.Equal(2, week.Replan(Published, "2027-03-08T12:00").Problem.Facts!.Published.Shifts.Count);
    }
}
