using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Validation;

/// <summary>Ids that name nothing in the week.</summary>
internal static class ReferenceFaults
{
    public static IEnumerable<Fault> Of(Week week, Func<string, bool> sound)
    {
        var nights = Known("night", "/nights", week.Nights.Select(night => night.Id), sound);
        var zones = Known("zone", "/store/zones", week.Store.Zones.Select(zone => zone.Id), sound);
        var equipment = Known("equipment", "/store/equipment", week.Store.Equipment.Select(piece => piece.Id), sound);
        var displays = Known("display", "/displays", week.Displays.Select(display => display.Id), sound);
        var tasks = Known("task", "/tasks", week.Tasks.Select(task => task.Id), sound);
        var kits = Known("kit", "/kits", week.Kits.Select(kit => kit.Id), sound);
        var items = week.Kits.Select((kit, index) => (kit.Id, Items: Known(
            $"item of {kit.Id}", $"/kits/{index}/lines", kit.Lines.Select(line => line.Item), sound)))
                .DistinctBy(kit => kit.Id).ToDictionary();

        foreach (var (index, member) in week.Crew.Index())
            foreach (var (entry, available) in member.Available.Index())
                if (nights.Fault($"/crew/{index}/available/{entry}/night", available.Night) is { } fault) yield return fault;

        foreach (var (index, display) in week.Displays.Index())
            if (displays.Fault($"/displays/{index}/alternate/display", display.Alternate?.Display) is { } fault)
                yield return fault;

        foreach (var (index, task) in week.Tasks.Index())
        {
            var at = $"/tasks/{index}";
            IEnumerable<Fault?> found =
            [
                displays.Fault($"{at}/display", task.Display),
                zones.Fault($"{at}/zone", task.Zone),
                nights.Fault($"{at}/due", task.Due),
                .. task.After.Select((after, link) => tasks.Fault($"{at}/after/{link}/task", after.Task)),
                .. task.Needs.Select((need, number) => kits.Fault($"{at}/needs/{number}/kit", need.Kit)
                    ?? items.GetValueOrDefault(need.Kit)?.Fault($"{at}/needs/{number}/item", need.Item)),
                .. task.Modes.SelectMany((mode, way) => mode.Equipment.Select((use, number) =>
                    equipment.Fault($"{at}/modes/{way}/equipment/{number}/id", use.Id))),
            ];
            foreach (var fault in found.OfType<Fault>()) yield return fault;
        }
    }

    private static KnownIds Known(string kind, string list, IEnumerable<string> ids, Func<string, bool> sound)
    {
        HashSet<string> known = [.. ids];
        return new KnownIds(kind, known, whole: !known.Contains("") && (known.Count > 0 || sound(list)));
    }
}
