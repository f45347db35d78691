using System.Diagnostics;
using System.Text;
using CsCheck;
using SetWeek.Model.Checking;
using SetWeek.Model.Files;
using SetWeek.Model.Json;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Files;

/// <summary>Every week that the reader accepts can be indexed as a problem, and the reader answers every input.</summary>
public class ValidWeekTests
{
    [Fact]
    public void Every_accepted_week_can_be_indexed_as_a_problem()
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
    public void Wrong_bytes_anywhere_never_throw()
    {
        var valid = ExampleFiles.Read("bell-yard.week.json");
        Gen.Select(Gen.Int[0, valid.Length - 1], Gen.Byte).Array[1, 4].Sample(changes =>
        {
            var bytes = valid.ToArray();
            foreach (var (at, value) in changes) bytes[at] = value;
            if (WeekFile.Read(bytes).TryPickT0(out var week, out _)) Problem.Of(week);
        }, iter: 500);
    }

    // A week at the limits of its lists: with cycles or unknown ids in all precedences, and hard matchings of people to roles.
    [Theory]
    [InlineData("task")]
    [InlineData("nothing-that-the-week-has-and-as-long-as-an-id-may-be-nothing-that-the-week-has-and-as-long")]
    public void The_largest_week_is_read_within_seconds(string after)
    {
        var skills = Enumerable.Range(0, 20).Select(number => $"s{number}").ToArray();
        SkillRequirement[] roles = [.. skills.Select(skill => new SkillRequirement(skill, 3))];
        var week = ExampleFiles.Week with
        {
            Crew = [.. Enumerable.Range(0, 60).Select(number => ExampleFiles.Week.Crew[0] with
            {
                // Two people alone have the last skill, so the matching has to search long for its roles.
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
