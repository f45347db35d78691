using System.Globalization;
using SetWeek.Model.Weeks;

namespace SetWeek.Bench.Instances;

/// <summary>
/// Reads resource-constrained project instances (.sm; Kolisch and Sprecher 1997). Resources become equipment; no people are
/// needed.
/// </summary>
public static class ProjectInstance
{
    public static Week Read(string name, string text)
    {
        var lines = text.Split('\n', StringSplitOptions.TrimEntries);
        var activities = int.Parse(lines.First(line => line.StartsWith("jobs", StringComparison.Ordinal)).Split(':')[1],
            CultureInfo.InvariantCulture);
        var successors = Block(lines, "PRECEDENCE RELATIONS", 2, activities).ToDictionary(row => row[0], row => row[3..]);
        var requests = Block(lines, "REQUESTS/DURATIONS", 3, activities);
        var capacities = Block(lines, "RESOURCEAVAILABILITIES", 2, 1)[0];
        var predecessors = successors.SelectMany(row => row.Value.Select(next => (next, row.Key)))
            .ToLookup(pair => pair.next, pair => pair.Key);
        return ProjectWeek.Of(name,
            [.. requests.Select(row => new ProjectWeek.ProjectActivity($"t{row[0]}", row[2], [],
                [.. row[3..].Select((count, kind) => new EquipmentUse($"r{kind + 1}", count)).Where(use => use.Count > 0)],
                [.. predecessors[row[0]].Select(before => $"t{before}")]))],
            [],
            [.. capacities.Select((count, kind) => new Equipment($"r{kind + 1}", count))]);
    }

    private static int[][] Block(string[] lines, string title, int skip, int count) =>
        [.. lines.SkipWhile(line => !line.StartsWith(title, StringComparison.Ordinal)).Skip(skip).Take(count).Select(line =>
            line.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)
                .Select(word => int.Parse(word, CultureInfo.InvariantCulture)).ToArray())];
}
