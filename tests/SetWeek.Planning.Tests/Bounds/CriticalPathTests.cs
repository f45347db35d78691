using System.Text.Json;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Tests.Outside;
using static SetWeek.Planning.Tests.Bounds.BoundsWeek;

namespace SetWeek.Planning.Tests.Bounds;

/// <summary>
/// Published networks as one night, as long as the project, an hour a unit: the calendar's longest path has their earliest
/// and latest times.
/// </summary>
public sealed class CriticalPathTests
{
    /// <summary>
    /// The eight-activity pollution-control example of "Operations Management" (textbook, chapter on project management),
    /// with its published times: activity, duration, predecessors, earliest start, latest finish.
    /// </summary>
    [Fact]
    public void The_eight_activities_of_a_textbook_have_their_published_times() => Matches(15,
    [
        ("a", 2, "", 0, 2), ("b", 3, "", 0, 4), ("c", 2, "a", 2, 4), ("d", 4, "b", 3, 8),
        ("e", 4, "c", 4, 8), ("f", 3, "c", 4, 13), ("g", 5, "d e", 8, 13), ("h", 2, "f g", 13, 15),
    ]);

    /// <summary>
    /// Table 1 (fictitious data) of the vignette "CPM and PERT" of the R package critpath 0.2.2, arrows turned into
    /// predecessors.
    /// </summary>
    [Fact]
    public void The_six_activities_of_a_vignette_have_their_published_times() => Matches(8,
    [
        ("a", 3, "", 0, 4), ("b", 2, "", 0, 4), ("c", 5, "", 0, 5), ("d", 1, "a", 3, 5), ("e", 1, "b", 2, 5),
            ("f", 3, "c d e", 5, 8),
    ]);

    /// <summary>"Integrated project management and control: first comes the theory, then the practice" (2014), page 11.</summary>
    [Fact]
    public void The_seventeen_activities_of_a_renovation_have_their_published_times() => Matches(27,
    [
        ("a1", 2, "", 0, 2), ("a2", 2, "a1", 2, 4), ("a3", 4, "a2", 4, 8), ("a4", 3, "a3", 8, 11), ("a5", 4, "a4", 11, 15),
        ("a6", 1, "a5", 15, 16), ("a7", 1, "a6", 16, 17), ("a8", 1, "a6", 16, 17), ("a9", 1, "a6", 16, 17),
            ("a10", 1, "a7 a8 a9", 17, 18),
        ("a11", 3, "a10", 18, 21), ("a12", 2, "a11", 21, 23), ("a13", 1, "a10", 18, 22), ("a14", 1, "a13", 19, 23),
        ("a15", 2, "a12 a14", 23, 25), ("a16", 1, "a15", 25, 26), ("a17", 1, "a16", 26, 27),
    ]);

    [OpenDataTheory("network-examples"), InlineData("cpm_examples.json")]
    public void Every_network_kept_beside_the_project_has_its_published_times(string file)
    {
        using var examples = JsonDocument.Parse(File.ReadAllBytes(Path.Combine(OpenData.PathOf("network-examples"), file)));
        var compared = 0;
        foreach (var example in examples.RootElement.EnumerateArray())
        {
            // Each says whether what was published agrees with what was computed; one was published without its times.
            if (example.GetProperty("published").TryGetProperty("ES", out var published))
                foreach (var one in published.EnumerateObject())
                    Assert.Equal(one.Value.GetInt32(), example.GetProperty("computed_here").GetProperty("activities")
                        .GetProperty(one.Name).GetProperty("ES").GetInt32());
            var computed = example.GetProperty("computed_here");
            Matches(computed.GetProperty("duration").GetInt32(),
                [.. computed.GetProperty("activities").EnumerateObject().Select(one => (
                one.Name, one.Value.GetProperty("dur").GetInt32(),
                string.Join(' ', one.Value.GetProperty("pred").EnumerateArray().Select(before => before.GetString())),
                one.Value.GetProperty("ES").GetInt32(), one.Value.GetProperty("LF").GetInt32()))]);
            compared++;
        }
        Assert.Equal(6, compared);
    }

    /// <summary>
    /// Milestones without duration are no work for a week: they are left out, and what follows one follows what it follows.
    /// </summary>
    private static void Matches(int length,
        (string Id, int Duration, string Before, int EarliestStart, int LatestFinish)[] activities)
    {
        var byId = activities.ToDictionary(activity => activity.Id);
        IEnumerable<string> Before(string id) => byId[id].Before.Split(' ', StringSplitOptions.RemoveEmptyEntries)
            .SelectMany(before => byId[before].Duration > 0 ? [before] : Before(before));
        WeekTask[] tasks = [.. activities.Where(activity => activity.Duration > 0)
            .Select(activity => Task(activity.Id, activity.Duration * 60, [.. Before(activity.Id)]))];
        var week = Week(1, tasks);
        var problem = Problem.Of(week with
        {
            Nights = [week.Nights[0] with { Closes = Evening(0, length * 60) }],
            Crew = [.. activities.Select(activity => Person("p" + activity.Id, 1))],
        });

        var windows = RootPropagation.Of(problem).Windows;

        foreach (var task in problem.Tasks)
        {
            var expected = byId[task.Id];
            Assert.Equal((task.Id, expected.EarliestStart * 60, (expected.EarliestStart + expected.Duration) * 60),
                (task.Id, windows.EarliestStart(task.FirstStint), windows.EarliestEnd(task.FirstStint)));
            Assert.Equal((task.Id, (expected.LatestFinish - expected.Duration) * 60, expected.LatestFinish * 60),
                (task.Id, windows.LatestStart(task.FirstStint), windows.LatestEnd(task.FirstStint)));
        }
        Assert.Equal(length * 60, RootPropagation.Of(problem).Bound(GoalId.Finish));
    }
}
