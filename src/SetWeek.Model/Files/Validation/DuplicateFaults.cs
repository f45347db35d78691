using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Validation;

/// <summary>Ids that two things of a kind share, items that two lines of a kit share, and more than one last task.</summary>
internal static class DuplicateFaults
{
    public static IEnumerable<Fault> Of(Week week) =>
    [
        .. Among("/nights", week.Nights.Select(night => night.Id)),
        .. Among("/store/zones", week.Store.Zones.Select(zone => zone.Id)),
        .. Among("/store/equipment", week.Store.Equipment.Select(piece => piece.Id)),
        .. Among("/crew", week.Crew.Select(member => member.Id)),
        .. Among("/kits", week.Kits.Select(kit => kit.Id)),
        .. week.Kits.SelectMany((kit, index) => Among($"/kits/{index}/lines", kit.Lines.Select(line => line.Item), "item")),
        .. Among("/displays", week.Displays.Select(display => display.Id)),
        .. Among("/tasks", week.Tasks.Select(task => task.Id)),
        .. SecondLast(week),
    ];

    private static IEnumerable<Fault> Among(string list, IEnumerable<string> ids, string field = "id")
    {
        var first = new Dictionary<string, int>();
        foreach (var (index, id) in ids.Index())
            if (id.Length > 0 && !first.TryAdd(id, index))
                yield return new Fault($"{list}/{index}/{field}",
                    $"The {field} {Echo.Of(id)} is taken already, at {list}/{first[id]}; choose another.");
    }

    private static IEnumerable<Fault> SecondLast(Week week)
    {
        int[] last = [.. week.Tasks.Index().Where(task => task.Item.Last).Select(task => task.Index)];
        return last.Skip(1).Select(index => new Fault($"/tasks/{index}/last",
            $"Only one task can be last, and {Echo.Of(week.Tasks[last[0]].Id)} is; join the two or drop one last."));
    }
}
