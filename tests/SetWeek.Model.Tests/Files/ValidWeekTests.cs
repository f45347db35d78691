using System.Diagnostics;
using System.Text;
using CsCheck;
using SetWeek.Model.Checking;
using SetWeek.Model.Files;
using SetWeek.Model.Json;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Files;

/// <summary>Whatever the reader lets through, a problem can be made of; whatever it is given, it answers.</summary>
public class ValidWeekTests
{
    [Fact]
    public void A_problem_can_be_made_of_every_week_that_is_accepted()
    {
        var accepted = 0;
        foreach (var mutation in JsonMutations.Of(ExampleFiles.Read("bell-yard.week.json"), othersEach: 2))
            if (WeekFile.Read(Encoding.UTF8.GetBytes(mutation.Text.GetRawText())).TryPickT0(out var week, out _))
            {
                accepted++;
                var problem = Problem.Of(week);
                Checker.Check(problem, PlanConverter.ScheduleOf(problem, ExampleFiles.Plan));
            }
        Assert.InRange(accepted, 50, int.MaxValue);
    }

    [Fact]
    public void Bytes_put_wrong_anywhere_are_answered_and_never_thrown_at()
    {
        var good = ExampleFiles.Read("bell-yard.week.json");
        Gen.Select(Gen.Int[0, good.Length - 1], Gen.Byte).Array[1, 4].Sample(changes =>
        {
            var bytes = good.ToArray();
            foreach (var (at, value) in changes) bytes[at] = value;
            if (WeekFile.Read(bytes).TryPickT0(out var week, out _)) Problem.Of(week);
        }, iter: 500);
    }

    // As many links, and as many places to fill, as a file may have: rings everywhere, unknown ids everywhere, hard matchings.
    [Theory]
    [InlineData("task")]
    [InlineData("nothing-that-the-week-has-and-as-long-as-an-id-may-be-nothing-that-the-week-has-and-as-long")]
    public void The_most_that_a_file_may_hold_is_answered_in_seconds(string after)
    {
        var skills = Enumerable.Range(0, 20).Select(number => $"s{number}").ToArray();
        SkillRequirement[] roles = [.. skills.Select(skill => new SkillRequirement(skill, 3))];
        var week = ExampleFiles.Week with
        {
            Crew = [.. Enumerable.Range(0, 60).Select(number => ExampleFiles.Week.Crew[0] with
            {
                // Everybody has every skill but the last, which two have: the last places look long for somebody.
                Id = $"p{number}", Skills = skills[..(number < 2 ? 20 : 19)].ToDictionary(skill => skill, _ => 1),
            })],
            Tasks = [.. Enumerable.Range(0, 500).Select(number => new WeekTask
            {
                Id = $"task{number}", Name = "Task", Display = "wall", Zone = "floor",
                Modes = [.. Enumerable.Repeat(new Mode(10, roles), 4)],
                After = [.. Enumerable.Range(0, after.Length > 4 ? 60 : 200)
                    .Select(other => new TaskPrecedence($"{after}{(number + other) % 500}"))],
            })],
        };
        var json = WeekFile.Write(week);
        var started = Stopwatch.StartNew();
        Assert.InRange(WeekFile.Read(json).AsT1.All.Count, 2, 1001);
        Assert.InRange(started.Elapsed.TotalSeconds, 0, 30);
        Assert.InRange(json.Length, 1_000_000, JsonCursor.MaxBytes);
    }
}
