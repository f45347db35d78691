using SetWeek.Bench.Contenders;
using SetWeek.Bench.Instances;
using SetWeek.Model.Checking;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Benchmarks;

/// <summary>
/// What the planner is measured against is right itself: the eight-activity network of "Operations Management" (textbook,
/// project-management chapter; published length 15) with crews of one, two and all.
/// </summary>
public class ContenderTests
{
    private static readonly (string Id, int Minutes, string[] After)[] Plant =
    [
        ("a", 2, []), ("b", 3, []), ("c", 2, ["a"]), ("d", 4, ["b"]),
        ("e", 4, ["c"]), ("f", 3, ["c"]), ("g", 5, ["d", "e"]), ("h", 2, ["f", "g"]),
    ];

    // 25 minutes of work: one pair of hands takes all of it. With two, a-c-e-g-h takes its 15 and b-d, 7, fits beside a-c-e,
    // 8, and f, 3, beside g; more are no use.
    [Theory, InlineData(1, 25), InlineData(2, 15), InlineData(8, 15)]
    public void Hands_and_pieces_alike_take_as_long_as_the_network_does(int count, int optimum)
    {
        foreach (var week in new[] { Hands(count), Pieces(count) })
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
    public void The_serial_scheme_takes_the_latest_finish_first_and_waits_for_what_is_taken()
    {
        // Three minutes before the long chain alone: by latest finish "first" goes before "later", whatever their order in
        // the week.
        var week = ProjectWeek.Of("rule",
        [
            new("later", 3, [], [new("bench", 1)], []), new("first", 3, [], [new("bench", 1)], []),
            new("chain", 9, [], [], ["first"]),
        ], [], [new("bench", 1)]);
        var work = Solve(Contender.Serial, week).Schedule!.Work.OrderBy(work => work.Stint).Select(work => work.From);
        Assert.Equal([3, 0, 3], work);
    }

    private static Outcome Solve(Contender contender, Week week) => contender.Solve(week, new SearchLimits { Effort = 2, Workers = 1 });

    private static int Length(Outcome outcome) => outcome.Schedule!.Work.Max(work => work.To);

    private static Week Hands(int count) => ProjectWeek.Of("plant",
        [.. Plant.Select(one => new ProjectWeek.ProjectActivity(one.Id, one.Minutes, [new SkillRequirement("any", 1)], [], one.After))],
        [.. Enumerable.Range(1, count)
            .Select(number => ProjectWeek.Worker($"p{number}", new Dictionary<string, int> { ["any"] = 1 }))], []);

    private static Week Pieces(int count) => ProjectWeek.Of("plant",
        [.. Plant.Select(one => new ProjectWeek.ProjectActivity(one.Id, one.Minutes, [], [new("bench", 1)], one.After))],
        [], [new("bench", count)]);
}
