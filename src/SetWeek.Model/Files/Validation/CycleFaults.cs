using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Validation;

/// <summary>Tasks that wait for one another in a ring, so that none can ever start.</summary>
internal static class CycleFaults
{
    /// <summary>Of rings through hundreds of tasks there can be more than anybody could read, or a machine print.</summary>
    private const int MaxFaults = 50;

    private enum Colour { New, OnPath, Done }

    /// <summary>One fault for each link that closes a ring, the ring printed as its path.</summary>
    public static IEnumerable<Fault> Of(Week week)
    {
        var index = week.Tasks.Index().DistinctBy(task => task.Item.Id).ToDictionary(task => task.Item.Id, task => task.Index);
        var colours = new Colour[week.Tasks.Count];
        var (path, faults) = (new List<int>(), new List<Fault>());
        for (var task = 0; task < colours.Length; task++) Visit(task);
        return faults;

        void Visit(int task)
        {
            if (colours[task] != Colour.New || faults.Count == MaxFaults) return;
            colours[task] = Colour.OnPath;
            path.Add(task);
            foreach (var (link, precedence) in week.Tasks[task].After.Index())
            {
                if (!index.TryGetValue(precedence.Task, out var before) || precedence.Task.Length == 0) continue;
                if (colours[before] == Colour.OnPath && faults.Count < MaxFaults)
                    faults.Add(new Fault($"/tasks/{task}/after/{link}/task",
                        $"These tasks wait for one another: {Path(before)}; drop one of the links."));
                else Visit(before);
            }
            path.RemoveAt(path.Count - 1);
            colours[task] = Colour.Done;
        }

        string Path(int ring) => string.Join(" -> ", path[path.IndexOf(ring)..].Append(ring).Select(at => week.Tasks[at].Id));
    }
}
