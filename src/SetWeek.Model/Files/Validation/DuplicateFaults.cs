using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Validation;

/// <summary>Finds ids used twice for one kind of thing, items listed twice in a kit, and more than one last task.</summary>
internal static class DuplicateFaults
{
    public static IEnumerable<Fault> Of(Week week) =>
    [
        .. DuplicatesIn("/nights", week.Nights.Select(night => night.Id)),
        .. DuplicatesIn("/store/zones", week.Store.Zones.Select(zone => zone.Id)),
        .. DuplicatesIn("/store/equipment", week.Store.Equipment.Select(piece => piece.Id)),
        .. DuplicatesIn("/crew", week.Crew.Select(member => member.Id)),
        .. DuplicatesIn("/kits", week.Kits.Select(kit => kit.Id)),
        .. week.Kits.SelectMany((kit, index) =>
            DuplicatesIn($"/kits/{index}/lines", kit.Lines.Select(line => line.Item), "item")),
        .. DuplicatesIn("/displays", week.Displays.Select(display => display.Id)),
        .. DuplicatesIn("/tasks", week.Tasks.Select(task => task.Id)),
        .. SurplusLastTasks(week),
    ];

    private static IEnumerable<Fault> DuplicatesIn(string list, IEnumerable<string> ids, string field = "id")
    {
        var first = new Dictionary<string, int>();
        foreach (var (index, id) in ids.Index())
            if (id.Length > 0 && !first.TryAdd(id, index))
                yield return new Fault($"{list}/{index}/{field}",
                    $"The {field} {QuotedInput.Of(id)} is already used at {list}/{first[id]}; choose another.");
    }

    private static IEnumerable<Fault> SurplusLastTasks(Week week)
    {
        int[] last = [.. week.Tasks.Index().Where(task => task.Item.Last).Select(task => task.Index)];
        return last.Skip(1).Select(index => new Fault($"/tasks/{index}/last",
            $"Only one task can be last, and {FaultNames.Of(week.Tasks[last[0]])} already is; merge the two tasks, or make "
            + "only one of them last."));
    }
}
