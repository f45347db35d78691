using System.Text.Json;
using SetWeek.Bench.Instances;
using SetWeek.Model.Plans;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Benchmarks;

/// <summary>
/// Textbook networks solved by the planner, with enough people, so that the finish is the critical path. The earliest finish of
/// an activity is the finish of its predecessors and itself. Its latest start is the latest arrival of a kit for it that does
/// not delay the project.
/// </summary>
public class PublishedNetworkTests
{
    private static readonly SearchLimits Short = new() { Effort = 5, Workers = 1 };

    private sealed record PublishedNetwork(string Id, int Duration, Dictionary<string, (int Minutes, string[] After)> Activities,
        Dictionary<string, int> EarliestFinish, Dictionary<string, int> LatestStart);

    /// <summary>
    /// The eight-activity example of "Operations Management" (textbook), project-management chapter: durations, predecessors,
    /// earliest finishes, latest starts and the length of 15 as published there.
    /// </summary>
    private static readonly PublishedNetwork Plant = new("plant", 15,
        new()
        {
            ["A"] = (2, []), ["B"] = (3, []), ["C"] = (2, ["A"]), ["D"] = (4, ["B"]),
            ["E"] = (4, ["C"]), ["F"] = (3, ["C"]), ["G"] = (5, ["D", "E"]), ["H"] = (2, ["F", "G"]),
        },
        new() { ["A"] = 2, ["B"] = 3, ["C"] = 4, ["D"] = 7, ["E"] = 8, ["F"] = 7, ["G"] = 13, ["H"] = 15 },
        new() { ["A"] = 0, ["B"] = 1, ["C"] = 2, ["D"] = 4, ["E"] = 4, ["F"] = 10, ["G"] = 8, ["H"] = 13 });

    public static TheoryData<string> Published =>
        OpenData.Folder is null ? new("none") : new(Read().Select(network => network.Id));

    [Fact]
    public void The_textbook_example_of_eight_activities_has_its_published_times() => AssertTimes(Plant);

    [OpenDataTheory("network-examples"), MemberData(nameof(Published))]
    public void Every_published_network_has_its_published_times(string id) =>
        AssertTimes(Read().Single(network => network.Id == id));

    private static void AssertTimes(PublishedNetwork network)
    {
        Assert.Equal(network.Duration, Finish(network, network.Activities.Keys));
        foreach (var (activity, finish) in network.EarliestFinish)
            Assert.Equal((activity, finish), (activity, Finish(network, WithPredecessors(network, activity))));
        foreach (var (activity, start) in network.LatestStart)
        {
            if (network.Activities[activity].Minutes == 0) continue;
            Assert.Equal((activity, network.Duration), (activity, Finish(network, network.Activities.Keys, activity, start)));
            Assert.Equal((activity, network.Duration + 1),
                (activity, Finish(network, network.Activities.Keys, activity, start + 1)));
        }
    }

    /// <summary>
    /// The proven minimum of the makespan in minutes, optionally with one activity that needs a kit.
    /// </summary>
    private static long Finish(PublishedNetwork network, IEnumerable<string> activities, string? needsKit = null, int kitIn = 0)
    {
        var week = ProjectWeek.Of(network.Id,
            [.. activities
                .Select(id => new ProjectWeek.ProjectActivity(id.ToLowerInvariant(), network.Activities[id].Minutes,
                    [new SkillRequirement("any", 1)], [],
                [.. network.Activities[id].After.Select(before => before.ToLowerInvariant())]))],
            [.. network.Activities.Keys
                .Select((_, index) => ProjectWeek.Worker($"p{index}", new Dictionary<string, int> { ["any"] = 1 }))],
            []);
        if (needsKit is not null)
            week = week with
            {
                Kits = [new Kit("kit", "Kit", week.Nights[0].Opens.PlusMinutes(kitIn))],
                Nights = [week.Nights[0] with { Closes = week.Nights[0].Closes.PlusMinutes(1) }],
                Launch = week.Launch.PlusMinutes(1),
                Tasks = [.. week.Tasks
                    .Select(task => task.Id.Equals(needsKit, StringComparison.OrdinalIgnoreCase)
                        ? task with { Needs = [new KitRequirement("kit")] }
                        : task)],
            };
        var plan = Planner.Plan(week, Short);
        Assert.Equal(PlanStatus.Optimal, plan.Status);
        return plan.Goals.Single().Value;
    }

    private static HashSet<string> WithPredecessors(PublishedNetwork network, string activity) =>
        [activity, .. network.Activities[activity].After.SelectMany(before => WithPredecessors(network, before))];

    /// <summary>The networks of the file. Some have published earliest and latest times too.</summary>
    private static IEnumerable<PublishedNetwork> Read()
    {
        using var file = JsonDocument.Parse(File.ReadAllText(OpenData.PathOf("network-examples/cpm_examples.json")));
        foreach (var example in file.RootElement.EnumerateArray())
        {
            var computed = example.GetProperty("computed_here");
            var published = example.TryGetProperty("published", out var given) ? given : default;
            yield return new PublishedNetwork(
                example.GetProperty("id").GetString()!.Replace('_', '-'),
                computed.GetProperty("duration").GetInt32(),
                computed.GetProperty("activities").EnumerateObject().ToDictionary(activity => activity.Name, activity =>
                    (activity.Value.GetProperty("dur").GetInt32(),
                        activity.Value.GetProperty("pred").EnumerateArray().Select(before => before.GetString()!).ToArray())),
                Times(published, "EF"), Times(published, "LS"));
        }

        static Dictionary<string, int> Times(JsonElement published, string name) =>
            published.ValueKind == JsonValueKind.Object && published.TryGetProperty(name, out var times)
                ? times.EnumerateObject().ToDictionary(time => time.Name, time => time.Value.GetInt32()) : [];
    }
}
