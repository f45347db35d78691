using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Validation;

/// <summary>Finds cycles of precedences, by depth-first search. No task of a cycle could ever start.</summary>
internal static class CycleFaults
{
    /// <summary>Limits the report: hundreds of tasks can have very many long cycles.</summary>
    private const int MaxFaults = 50;

    private enum Colour { New, OnPath, Done }

    /// <summary>One fault for each precedence that closes a cycle, with the cycle as a path of tasks.</summary>
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
            foreach (var (number, precedence) in week.Tasks[task].After.Index())
            {
                if (!index.TryGetValue(precedence.Task, out var predecessor) || precedence.Task.Length == 0) continue;
                if (colours[predecessor] == Colour.OnPath && faults.Count < MaxFaults)
                    faults.Add(new Fault($"/tasks/{task}/after/{number}/task",
                        $"These tasks form a cycle: {Path(predecessor)}; remove one of the after entries."));
                else Visit(predecessor);
            }
            path.RemoveAt(path.Count - 1);
            colours[task] = Colour.Done;
        }

        string Path(int start) =>
            string.Join(" -> ", path[path.IndexOf(start)..].Append(start).Select(task => FaultNames.Of(week.Tasks[task])));
    }
}
