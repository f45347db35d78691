using SetWeek.Bench;
using SetWeek.Model.Checking;
using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.RightShift;
using SetWeek.Planning.Search;
using SetWeek.Planning.Tests.Exact;

namespace SetWeek.Planning.Tests.Explaining.RightShift;

public sealed class LatestStartsTests
{
    /// <summary>
    /// Hillier and Lieberman, Introduction to Operations Research, chapter on project management with PERT and CPM: the Reliable
    /// Construction Co. project, its activities with their durations, predecessors, earliest and latest starts in weeks (from
    /// memory). A week is 10 minutes here, and the night closes when the project is due, after 44 weeks.
    /// </summary>
    [Fact]
    public void The_latest_starts_of_a_textbook_project_are_found()
    {
        (string Id, int Weeks, int Earliest, int Latest, string[] After)[] project =
        [
            ("a", 2, 0, 0, []), ("b", 4, 2, 2, ["a"]), ("c", 10, 6, 6, ["b"]), ("d", 6, 16, 20, ["c"]), ("e", 4, 16, 16, ["c"]),
            ("f", 5, 20, 20, ["e"]), ("g", 7, 22, 26, ["d"]), ("h", 9, 29, 33, ["e", "g"]), ("i", 7, 16, 18, ["c"]),
            ("j", 8, 25, 25, ["f", "i"]), ("k", 4, 33, 34, ["j"]), ("l", 5, 33, 33, ["j"]), ("m", 2, 38, 42, ["h"]),
            ("n", 6, 38, 38, ["k", "l"]),
        ];
        var week = project.Aggregate(TinyWeek.New, (week, activity) => week.Task(activity.Id, 10 * activity.Weeks, task => task with
        {
            Modes = [new(10 * activity.Weeks, [])], After = [.. activity.After.Select(before => new TaskPrecedence(before))],
        })).Night("mon", night => night with { Closes = night.Opens.PlusMinutes(440) });
        var problem = week.Problem;
        var schedule = week.Plan.Schedule with
        {
            Work = [.. project.Select((activity, index) => new ScheduledWork(0, index, 0, 0, activity.Earliest * 10,
                (activity.Earliest + activity.Weeks) * 10, []))],
        };
        Assert.Empty(Checker.Check(problem, schedule));
        Assert.Equal(project.ToDictionary(activity => activity.Id, activity => activity.Latest * 10),
            LatestStarts.Of(problem, schedule, 0).ToDictionary(
                latest => problem.Stints[latest.Work.Stint!.Value].Task.Id, latest => latest.Minute));
    }

    /// <summary>The work before the break pushes it; it starts five hours after the shift at the latest.</summary>
    [Fact]
    public void A_break_moves_with_the_work_and_keeps_its_rule()
    {
        var plan = TinyWeek.New.Task("first", 60).Task("second", 60)
            .Rules(new RuleSet { BreakAfterMinutes = 300, BreakMinutes = 30 }).Plan
            .Shift("mon", "ana", "22:00", "04:30", "00:00", "00:30")
            .Work("mon", "first", "22:00", "23:00", "ana").Work("mon", "second", "01:00", "02:00", "ana");
        Assert.Equal(["first 02:00", "second 03:30"], LatestOf(plan));
    }

    [Fact]
    public void Work_before_a_ban_stays_before_it()
    {
        var plan = TinyWeek.New.Task("drill", 60, task => task with { Traits = ["noisy"] })
            .Ban("mon", "noisy", "2027-03-09T00:00", "2027-03-09T01:00").Plan
            .Shift("mon", "ana", "22:00", "06:00").Work("mon", "drill", "22:00", "23:00", "ana");
        Assert.Equal(["drill 23:00"], LatestOf(plan));
    }

    /// <summary>20 hours before Tuesday 22:00, when the forms are set, is 02:00.</summary>
    [Fact]
    public void Paint_that_dries_until_the_next_night_has_ended_in_time()
    {
        var plan = TinyWeek.New.Task("paint", 60).Task("forms", 60, after: "paint", dry: 1200).Plan
            .Shift("mon", "ana", "22:00", "06:00").Work("mon", "paint", "22:00", "23:00", "ana")
            .Shift("tue", "ana", "22:00", "06:00").Work("tue", "forms", "22:00", "23:00", "ana");
        Assert.Equal(["paint 01:00"], LatestOf(plan));
    }

    /// <summary>Ana is on the ladder for an hour within the two hours for which Bo works beside her.</summary>
    [Fact]
    public void Work_that_needs_company_does_not_outlast_it()
    {
        var plan = TinyWeek.New.Task("hang", 60, task => task with { Traits = ["ladder"] }).Task("dress", 120)
            .Rules(new RuleSet { Company = [new("ladder", 2)] }).Plan
            .Shift("mon", "ana", "22:00", "06:00").Shift("mon", "bo", "22:00", "06:00")
            .Work("mon", "dress", "22:30", "00:30", "bo").Work("mon", "hang", "23:00", "00:00", "ana");
        Assert.Equal(["dress 23:00", "hang 23:30"], LatestOf(plan));
    }

    /// <summary>The keyholder closes from 00:45, after 15 minutes of clean-down, after an hour of fitting.</summary>
    [Fact]
    public void The_clean_down_and_the_closing_of_the_store_come_after_the_work()
    {
        var plan = TinyWeek.New.Task("fit", 60).CleanDown("wall", 15)
            .Rules(new RuleSet { KeyholderPresent = true, ClosingMinutes = 15 }).Plan
            .Shift("mon", "ana", "22:00", "01:00").Shift("mon", "bo", "22:00", "01:00").Keyholder("mon", "ana")
            .Work("mon", "fit", "22:00", "23:00", "bo").CleanDown("mon", "wall", "23:00", "23:15", "ana");
        Assert.Equal(["fit 23:30", "wall 00:30"], LatestOf(plan));
    }

    /// <summary>Both need the only ladder: the second waits for the first, in the planned order.</summary>
    [Fact]
    public void Equipment_is_used_in_the_planned_order()
    {
        static WeekTask OnLadder(WeekTask task) =>
            task with { Modes = [new(60, [new("hands", 1)]) { Equipment = [new("ladder", 1)] }] };
        var plan = TinyWeek.New.Equipment("ladder", 1).Task("low", 60, OnLadder).Task("high", 60, OnLadder).Plan
            .Shift("mon", "ana", "22:00", "06:00").Shift("mon", "bo", "22:00", "02:00")
            .Work("mon", "low", "22:00", "23:00", "ana").Work("mon", "high", "23:30", "00:30", "bo");
        Assert.Equal(["low 00:00", "high 01:00"], LatestOf(plan));
    }

    [Fact]
    public void A_pinned_start_and_begun_work_stay()
    {
        var week = TinyWeek.New.Task("pinned", 60).Task("begun", 60)
            .With(week => week with { Pins = [new StintPin("pinned") { From = TinyWeek.Local("2027-03-09T00:00") }] });
        var plan = week.Plan.Shift("mon", "ana", "22:00", "06:00").Shift("mon", "bo", "22:00", "06:00")
            .Work("mon", "begun", "22:00", "23:00", "bo").Work("mon", "pinned", "00:00", "01:00", "ana");
        var replan = week.Replan(plan, "2027-03-08T22:30", plan.Report("mon", "begun", WorkState.Running, from: "22:00"));
        Assert.Equal(["begun 22:00", "pinned 00:00"], LatestOf(plan with { Problem = replan.Problem }));
    }

    /// <summary>
    /// Soundness and tightness, decided by the check of the plan: with a piece at its latest start no rule breaks and no other
    /// night changes; one step of the grid later a rule breaks.
    /// </summary>
    [Fact]
    public void In_random_weeks_the_latest_start_holds_and_one_step_later_breaks_a_rule()
    {
        var (moved, still) = (0, 0);
        for (var seed = 0; seed < 600; seed++)
        {
            var problem = Problem.Of(RandomWeeks.Make(seed, tiny: false));
            if (CpOptimum.Plan(problem) is { } schedule) Verify(problem, schedule, $"week {seed}", ref moved, ref still);
        }
        Assert.True(moved > 100 && still > 100, $"{moved} pieces can start later, {still} cannot");
    }

    [Fact]
    public void In_a_planned_week_of_the_demo_chain_the_latest_start_holds_and_one_step_later_breaks_a_rule()
    {
        var problem = Problem.Of(ExampleFiles.Week);
        var plan = PlanFile.Read(ExampleFiles.Read("bell-yard.plan.json"), ExampleFiles.Week).AsT0;
        var (moved, still) = (0, 0);
        Verify(problem, PlanConverter.ScheduleOf(problem, plan), "Bell Yard", ref moved, ref still);
        Assert.True(moved > 0, "some piece can start later");
    }

    /// <summary>40 tasks, six people and five nights, with breaks, drying, kits, bans and clean-downs.</summary>
    [Fact]
    public void In_a_generated_week_of_real_size_the_latest_start_holds_and_one_step_later_breaks_a_rule()
    {
        var problem = Problem.Of(WeekGenerator.Make(WeekGenerator.Size.Small, 4));
        var plan = Planner.Plan(problem.Week, new SearchLimits { Effort = 1, Workers = 1 });
        var (moved, still) = (0, 0);
        Verify(problem, PlanConverter.ScheduleOf(problem, plan), "generated week", ref moved, ref still);
        Assert.True(moved > 10 && still > 10, $"{moved} pieces can start later, {still} cannot");
    }

    private static void Verify(Problem problem, Schedule schedule, string name, ref int moved, ref int still)
    {
        Assert.Empty(Checker.Check(problem, schedule));
        foreach (var night in problem.Nights)
            foreach (var (work, minute) in LatestStarts.Of(problem, schedule, night.Index))
            {
                var shifted = LatestStarts.Shifted(problem, schedule, work, minute);
                Assert.True(Checker.Check(problem, shifted) is [], $"{name}: {work} holds at {minute}");
                Assert.Equal(schedule.Work.Where(other => other.Night != night.Index),
                    shifted.Work.Where(other => other.Night != night.Index));
                Assert.All(schedule.Work.Zip(shifted.Work), pair => Assert.True(pair.First.From <= pair.Second.From
                    && pair.First.Assignments == pair.Second.Assignments && pair.First.Span.Minutes == pair.Second.Span.Minutes));
                var later = LatestStarts.Shifted(problem, schedule, work, minute + problem.Grid.SlotMinutes);
                Assert.True(Checker.Check(problem, later) is not [], $"{name}: {work} could start after {minute}");
                if (minute > work.From) moved++;
                else still++;
            }
    }

    /// <summary>The work of Monday, by start, with the latest start as a clock time.</summary>
    private static IEnumerable<string> LatestOf(TinyPlan plan)
    {
        Assert.Empty(plan.BrokenRules);
        return LatestStarts.Of(plan.Problem, plan.Schedule, 0).Select(latest =>
            $"{(latest.Work.Stint is { } stint ? plan.Problem.Stints[stint].Task.Id : plan.Problem.Zones[latest.Work.Zone].Id)} "
                + plan.Problem.Grid.TimeOf(latest.Minute).ToString("HH:mm", null));
    }
}
