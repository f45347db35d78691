using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Validation;

/// <summary>Finds references to ids that the week does not have.</summary>
internal static class ReferenceFaults
{
    public static IEnumerable<Fault> Of(Week week, Func<string, bool> isFaultFree)
    {
        var nights = IdsOf("night", "/nights", week.Nights.Select(night => night.Id), isFaultFree);
        var zones = IdsOf("zone", "/store/zones", week.Store.Zones.Select(zone => zone.Id), isFaultFree);
        var equipment = IdsOf("equipment", "/store/equipment", week.Store.Equipment.Select(piece => piece.Id), isFaultFree);
        var displays = IdsOf("display", "/displays", week.Displays.Select(display => display.Id), isFaultFree);
        var tasks = IdsOf("task", "/tasks", week.Tasks.Select(task => task.Id), isFaultFree);
        var kits = IdsOf("kit", "/kits", week.Kits.Select(kit => kit.Id), isFaultFree);
        var items = week.Kits.Select((kit, index) => (kit.Id, Items: IdsOf(
            $"item of {kit.Id}", $"/kits/{index}/lines", kit.Lines.Select(line => line.Item), isFaultFree)))
                .DistinctBy(kit => kit.Id).ToDictionary();

        foreach (var (index, member) in week.Crew.Index())
            foreach (var (entry, available) in member.Available.Index())
                if (nights.UnknownIdFault($"/crew/{index}/available/{entry}/night", available.Night) is { } fault)
                    yield return fault;

        var people = IdsOf("person", "/crew", week.Crew.Select(member => member.Id), isFaultFree);
        foreach (var (index, pin) in week.Pins.Index())
        {
            IEnumerable<Fault?> found = pin switch
            {
                StintPin stint =>
                [
                    tasks.UnknownIdFault($"/pins/{index}/task", stint.Task),
                    nights.UnknownIdFault($"/pins/{index}/night", stint.Night),
                    .. stint.People.Select((person, at) => people.UnknownIdFault($"/pins/{index}/people/{at}", person)),
                ],
                ShiftPin shift =>
                [
                    people.UnknownIdFault($"/pins/{index}/person", shift.Person),
                    nights.UnknownIdFault($"/pins/{index}/night", shift.Night),
                ],
                _ => [],
            };
            foreach (var fault in found.OfType<Fault>()) yield return fault;
        }

        foreach (var (index, display) in week.Displays.Index())
            if (displays.UnknownIdFault($"/displays/{index}/alternate/display", display.Alternate?.Display) is { } fault)
                yield return fault;

        foreach (var (index, task) in week.Tasks.Index())
        {
            var at = $"/tasks/{index}";
            IEnumerable<Fault?> found =
            [
                displays.UnknownIdFault($"{at}/display", task.Display),
                zones.UnknownIdFault($"{at}/zone", task.Zone),
                nights.UnknownIdFault($"{at}/due", task.Due),
                .. task.After.Select((precedence, number) => tasks.UnknownIdFault($"{at}/after/{number}/task", precedence.Task)),
                .. task.Needs.Select((need, number) => kits.UnknownIdFault($"{at}/needs/{number}/kit", need.Kit)
                    ?? items.GetValueOrDefault(need.Kit)?.UnknownIdFault($"{at}/needs/{number}/item", need.Item)),
                .. task.Modes.SelectMany((mode, modeNumber) => mode.Equipment.Select((use, number) =>
                    equipment.UnknownIdFault($"{at}/modes/{modeNumber}/equipment/{number}/id", use.Id))),
            ];
            foreach (var fault in found.OfType<Fault>()) yield return fault;
        }
    }

    /// <summary>
    /// The ids of a list. They are complete if each id could be read and, where there are none, the list itself could.
    /// </summary>
    private static KnownIds IdsOf(string kind, string list, IEnumerable<string> ids, Func<string, bool> isFaultFree)
    {
        HashSet<string> known = [.. ids];
        return new KnownIds(kind, known, complete: !known.Contains("") && (known.Count > 0 || isFaultFree(list)));
    }
}
