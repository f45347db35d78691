using SetWeek.Bench.Contenders;
using SetWeek.Bench.Instances;
using SetWeek.Model.Checking;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Benchmarks;

/// <summary>
/// The contenders of the benchmark find correct schedules. Tested on the eight-activity network of "Operations Management"
/// (textbook, project-management chapter; published length 15) with one, two and eight units of its resource.
/// </summary>
public class ContenderTests
{
    private static readonly (string Id, int Minutes, string[] After)[] Plant =
    [
        ("a", 2, []), ("b", 3, []), ("c", 2, ["a"]), ("d", 4, ["b"]),
        ("e", 4, ["c"]), ("f", 3, ["c"]), ("g", 5, ["d", "e"]), ("h", 2, ["f", "g"]),
    ];

    // One unit takes all 25 minutes of work. With two, a-c-e-g-h takes 15, b-d (7) fits beside a-c-e (8) and f (3) beside g.
    // More units do not shorten it.
    [Theory, InlineData(1, 25), InlineData(2, 15), InlineData(8, 15)]
    public void People_and_equipment_give_the_same_makespan(int count, int optimum)
    {
        foreach (var week in new[] { WithPeople(count), WithEquipment(count) })
        {
            var (model, scheme, planner) =
                (Solve(Contender.Textbook, week), Solve(Contender.Serial, week), Solve(Contender.Planner, week));
            Assert.Equal((optimum, true), (Length(model), model.Proven));
            Assert.Equal((optimum, true), (Length(planner), planner.Proven));
            Assert.InRange(Length(scheme), optimum, 25);
            foreach (var outcome in new[] { model, scheme, planner })
                Assert.Empty(Checker.Check(Problem.Of(week), outcome.Schedule!));
        }
    }

    [Fact]
    public void The_serial_scheme_takes_the_earliest_latest_finish_first()
    {
        // "first" precedes the long chain, so its latest finish is earlier than that of "later", which comes first in the week.
        var week = ProjectWeek.Of("rule",
        [
            new("later", 3, [], [new("bench", 1)], []), new("first", 3, [], [new("bench", 1)], []),
            new("chain", 9, [], [], ["first"]),
        ], [], [new("bench", 1)]);
        var work = Solve(Contender.Serial, week).Schedule!.Work.OrderBy(work => work.Stint).Select(work => work.From);
        Assert.Equal([3, 0, 3], work);
    }

    private static Outcome Solve(Contender contender, Week week) =>
        contender.Solve(week, new SearchLimits { Effort = 2, Workers = 1 });

    private static int Length(Outcome outcome) => outcome.Schedule!.Work.Max(work => work.To);

    private static Week WithPeople(int count) => ProjectWeek.Of("plant",
        [.. Plant.Select(item => new ProjectWeek.ProjectActivity(item.Id, item.Minutes, [new SkillRequirement("any", 1)], [],
            item.After))],
        [.. Enumerable.Range(1, count)
            .Select(number => ProjectWeek.Worker($"p{number}", new Dictionary<string, int> { ["any"] = 1 }))], []);

    private static Week WithEquipment(int count) => ProjectWeek.Of("plant",
        [.. Plant.Select(item => new ProjectWeek.ProjectActivity(item.Id, item.Minutes, [], [new("bench", 1)], item.After))],
        [], [new("bench", count)]);
}
