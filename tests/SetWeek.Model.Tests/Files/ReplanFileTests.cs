using System.Text;
using NodaTime;
using SetWeek.Model.Files;
using SetWeek.Model.Json;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Files;

/// <summary>Progress reports on the example week at 21:35 on Thursday, valid and invalid.</summary>
public class ReplanFileTests
{
    private static readonly LocalDateTime Now = new(2027, 3, 11, 21, 35);

    private static IReadOnlyList<Fault> FaultsOf(string progress, Week? week = null, Plan? published = null) =>
        ReplanFile.Read(week ?? ExampleFiles.Week, published ?? ExampleFiles.Plan, Now, Encoding.UTF8.GetBytes(progress))
            .Match(_ => [], faults => faults.All);

    private static Week With(string task, Func<WeekTask, WeekTask> change) =>
        ExampleFiles.Week with { Tasks = [.. ExampleFiles.Week.Tasks.Select(item => item.Id == task ? change(item) : item)] };

    [Fact]
    public void The_example_progress_file_is_read()
    {
        var replan = ReplanFile.Read(ExampleFiles.Week, ExampleFiles.Plan, Now,
            ExampleFiles.Read("bell-yard.progress.json")).AsT0;
        Assert.Equal([WorkState.Done, WorkState.Running, WorkState.Blocked], replan.Progress.Select(report => report.State));
        Assert.Equal(20, replan.Progress[1].RemainingMinutes);
        Assert.NotNull(Problem.Of(ExampleFiles.Week, replan).Facts);
    }

    [Theory]
    [InlineData("/0/task", """{ "task": "wall.third-coat", "state": "done" }""")]
    [InlineData("/0/night",
        """{ "night": "sat", "cleanDown": "window", "state": "running", "from": "2027-03-11T21:00:00+00:00" }""")]
    [InlineData("/0/cleanDown",
        """{ "night": "thu", "cleanDown": "roof", "state": "running", "from": "2027-03-11T21:00:00+00:00" }""")]
    [InlineData("/0", """{ "task": "banner.hang", "state": "running", "from": "2027-03-11T21:00:00+00:00" }""")]
    [InlineData("/0/stint", """{ "task": "finish.move", "stint": 3, "state": "blocked" }""")]
    [InlineData("/0/from", """{ "task": "finish.move", "state": "running" }""")]
    [InlineData("/0/from", """{ "task": "finish.move", "state": "running", "from": "2027-03-11T21:35:00+00:00" }""")]
    [InlineData("/0/from", """{ "task": "wall.second-coat", "state": "done" }""")]
    [InlineData("/0/to",
        """{ "task": "finish.move", "state": "done", "from": "2027-03-11T21:20:00+00:00", "to": "2027-03-11T21:10:00+00:00" }""")]
    [InlineData("/0/to",
        """{ "task": "finish.move", "state": "done", "from": "2027-03-11T21:20:00+00:00", "to": "2027-03-11T21:40:00+00:00" }""")]
    [InlineData("/0/until",
        """{ "task": "finish.move", "state": "running", "from": "2027-03-11T21:20:00+00:00", "until": "2027-03-11T22:40:00+00:00" }""")]
    [InlineData("/0/remainingMinutes", """{ "task": "wall.first-coat", "state": "done", "remainingMinutes": 5 }""")]
    [InlineData("/0/state",
        """{ "night": "thu", "cleanDown": "window", "state": "reopened", "from": "2027-03-11T21:00:00+00:00" }""")]
    [InlineData("/1",
        """{ "task": "finish.move", "state": "blocked" }, { "task": "finish.move", "stint": 1, "state": "blocked" }""")]
    public void An_invalid_report_is_a_fault(string pointer, string reports) =>
        Assert.Equal([pointer], FaultsOf($"[{reports}]").Select(fault => fault.Pointer).Distinct());

    [Fact]
    public void A_night_with_begun_work_stays_in_the_week()
    {
        var first = ExampleFiles.Plan.Nights[0].Night;
        var week = ExampleFiles.Week with { Nights = [.. ExampleFiles.Week.Nights.Where(night => night.Id != first)] };
        var fault = Assert.Single(ReplanFile.Check(week, new Replan(ExampleFiles.Plan, Now, [Begun(ExampleFiles.Plan.Nights[0])])).AsT1.All);
        Assert.Contains($"began in night \"{first}\", which the week no longer has", fault.Detail);

        static ProgressReport Begun(PlannedNight night) => night.Work.Where(work => work.Task is not null)
            .Select(work => new ProgressReport
            {
                Task = work.Task, Stint = work.Stint!.Value, State = WorkState.Done, From = work.From, To = work.To,
            }).First();
    }

    [Fact]
    public void Work_that_is_not_in_the_published_plan_can_be_blocked() =>
        Assert.Empty(FaultsOf("""[{ "task": "banner.hang", "state": "blocked" }]"""));

    [Fact]
    public void A_time_in_another_offset_is_the_same_instant() =>
        Assert.Empty(FaultsOf("""[{ "task": "finish.move", "state": "running", "from": "2027-03-11T16:30:00-05:00" }]"""));

    private const string FirstCoatDone = """[{ "task": "wall.first-coat", "state": "done" }]""";

    [Fact]
    public void A_mode_of_begun_work_missing_from_the_week_is_a_fault() =>
        Assert.Contains("mode 1",
            Assert.Single(
                FaultsOf(FirstCoatDone, With("wall.first-coat", task => task with { Modes = [task.Modes[0]] }))).Detail);

    [Fact]
    public void A_changed_number_of_stints_of_begun_work_is_a_fault() =>
        Assert.Equal("/0/task",
            Assert.Single(FaultsOf(FirstCoatDone, With("wall.first-coat", task => task with { Stints = 2 }))).Pointer);

    [Fact]
    public void A_person_of_begun_work_missing_from_the_crew_is_a_fault() =>
        Assert.Contains("\"ada\"",
            Assert.Single(FaultsOf(FirstCoatDone, ExampleFiles.Week with { Crew = [.. ExampleFiles.Week.Crew.Skip(1)] })).Detail);

    [Fact]
    public void A_published_plan_may_name_a_task_that_the_week_no_longer_has()
    {
        var week = ExampleFiles.Week with { Tasks = [.. ExampleFiles.Week.Tasks.Where(task => task.Id != "wall.dress")] };
        var bytes = PlanFile.Write(ExampleFiles.Plan);
        Assert.Equal("/nights/1/work/1/task", Assert.Single(PlanFile.Read(bytes, week).AsT1.All).Pointer);
        Assert.True(PlanFile.ReadPublished(bytes, week).IsT0);
    }

    [Fact]
    public void Work_planned_twice_is_a_fault_in_a_published_plan()
    {
        var thursday = ExampleFiles.Plan.Nights[0];
        var twice = ExampleFiles.Plan
            with { Nights = [thursday with { Work = [.. thursday.Work, thursday.Work[0]] }, ExampleFiles.Plan.Nights[1]] };
        Assert.True(PlanFile.Read(PlanFile.Write(twice), ExampleFiles.Week).IsT0);
        Assert.Equal("/nights/0/work/6",
            Assert.Single(PlanFile.ReadPublished(PlanFile.Write(twice), ExampleFiles.Week).AsT1.All).Pointer);
    }

    [Fact]
    public void A_plan_of_another_week_is_a_fault() =>
        Assert.Equal("/week",
            Assert.Single(PlanFile.Read(PlanFile.Write(ExampleFiles.Plan with { Week = "other" }),
                ExampleFiles.Week).AsT1.All).Pointer);

    /// <summary>20:45 UTC on 11 March is 20:45 in London: summer time starts on 28 March 2027 (last Sunday, EU and UK rule).</summary>
    [Fact]
    public void A_time_with_another_offset_than_the_stores_is_a_fault()
    {
        var json = System.Text.Encoding.UTF8.GetString(PlanFile.Write(ExampleFiles.Plan))
            .Replace("2027-03-11T20:45:00+00:00", "2027-03-11T21:45:00+01:00", StringComparison.Ordinal);
        var fault = PlanFile.Read(System.Text.Encoding.UTF8.GetBytes(json), ExampleFiles.Week).AsT1.All[0];
        Assert.Equal("/nights/0/work/0/from", fault.Pointer);
        Assert.Equal("At that moment the store's time is 2027-03-11T20:45:00+00:00; give that.", fault.Detail);
    }
}
