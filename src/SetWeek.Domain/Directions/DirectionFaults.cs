using NodaTime;
using SetWeek.Model.Files;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Directions;

/// <summary>
/// Validates a direction with the rules for week files. It builds a week for an imaginary store with every zone, ample equipment,
/// people and time, so that every fault found is one of the direction.
/// </summary>
public static class DirectionFaults
{
    private static readonly string[] DirectionParts = ["/displays", "/tasks", "/kits"];

    /// <returns>The faults, with JSON Pointers into the direction.</returns>
    public static IReadOnlyList<Fault> Of(Direction direction) =>
    [
        .. RepeatedZones(direction),
        .. CardFaults(direction),
        .. ColourAndFigureFaults(direction),
        .. CartonFaults(direction),
        .. WeekFile.Read(WeekFile.Write(WeekInAmpleStore(direction))).Match(
            _ => [],
            faults => faults.All
                .Where(fault => DirectionParts.Any(part => fault.Pointer.StartsWith(part, StringComparison.Ordinal)))),
    ];

    private static IEnumerable<Fault> RepeatedZones(Direction direction) => direction.Zones.Index()
        .Where(zone => direction.Zones.Take(zone.Index).Any(earlier => earlier.Id == zone.Item.Id))
        .Select(zone => new Fault($"/zones/{zone.Index}/id", $"The zone \"{zone.Item.Id}\" is listed twice; keep one."));

    private static IEnumerable<Fault> CardFaults(Direction direction)
    {
        var tasks = direction.Tasks.Select(task => task.Id).ToHashSet();
        foreach (var (index, card) in direction.Cards.Index())
        {
            if (direction.Cards.Take(index).Any(earlier => earlier.Id == card.Id))
                yield return new Fault($"/cards/{index}/id", $"The card \"{card.Id}\" is listed twice; keep one.");
            foreach (var (at, task) in card.Tasks.Index())
                if (!tasks.Contains(task))
                    yield return new Fault($"/cards/{index}/tasks/{at}", $"There is no task \"{task}\" in this direction.");
        }
    }

    /// <summary>Colours and figures name tasks of their display.</summary>
    private static IEnumerable<Fault> ColourAndFigureFaults(Direction direction) =>
        from display in direction.Displays.Index()
        let own = direction.Tasks.Where(task => task.Display == display.Item.Id).Select(task => task.Id).ToHashSet()
        from look in display.Item.Colours.Index().Select(colour => (Pointer: $"colours/{colour.Index}", colour.Item.Tasks))
            .Concat(display.Item.Figures.Index().Select(figure => (Pointer: $"figures/{figure.Index}", figure.Item.Tasks)))
        from task in look.Tasks.Index()
        where !own.Contains(task.Item)
        select new Fault($"/displays/{display.Index}/{look.Pointer}/tasks/{task.Index}",
            $"“{display.Item.Name}” has no task \"{task.Item}\" in this direction.");

    private static IEnumerable<Fault> CartonFaults(Direction direction) =>
        from kit in direction.Kits.Index()
        from carton in kit.Item.Cartons.Index()
        from item in carton.Item.Items.Index()
        where kit.Item.Lines.All(line => line.Item != item.Item)
        select new Fault($"/kits/{kit.Index}/cartons/{carton.Index}/items/{item.Index}",
            $"“{kit.Item.Name}” has no line \"{item.Item}\".");

    private static Week WeekInAmpleStore(Direction direction)
    {
        var skills = direction.Tasks.SelectMany(task => task.Modes).SelectMany(mode => mode.Roles)
            .Select(role => role.Skill).Distinct().Take(50);
        var tools = direction.Tasks.SelectMany(task => task.Modes).SelectMany(mode => mode.Equipment)
            .Select(use => use.Id).Distinct();
        var nights = direction.Tasks.Select(task => task.Due).OfType<string>().Distinct().DefaultIfEmpty("night").Take(21)
            .Select((id, index) => new Night(id, Day(30 * index), Day(30 * index + 29))).ToList();
        var highestLevels = skills.ToDictionary(skill => skill, _ => 3);
        return new Week
        {
            Id = direction.Id,
            Currency = "XXX",
            Launch = nights[^1].Closes,
            Store = new Store
            {
                Id = "everywhere",
                TimeZone = "Etc/UTC",
                Zones = [.. direction.Tasks.Select(task => task.Zone).Distinct().Select(zone => new Zone(zone, zone))],
                Equipment = [.. tools.Select(tool => new Equipment(tool, 10_000))],
            },
            Nights = nights,
            Crew = [.. Enumerable.Range(1, 60).Select(number => new CrewMember
            {
                Id = $"hand-{number}", Name = $"Hand {number}", Skills = highestLevels, Keyholder = true, RatePerHour = 0,
                Available = [.. nights.Select(night => new Availability(night.Id))],
            })],
            Kits = [.. direction.Kits.Select(kit => new Kit(kit.Id, kit.Name, null)
            {
                Lines = [.. kit.Lines.Select(line => new KitLine(line.Item, line.Expected))],
            })],
            Displays = [.. direction.Displays.Select(display => new Display(display.Id, display.Name, display.Commitment)
            {
                Value = display.Value, Alternate = display.Alternate,
            })],
            Tasks = direction.Tasks,
            Rules = new RuleSet(),
        };
    }

    private static LocalDateTime Day(int day) => new LocalDateTime(2000, 1, 1, 0, 0).PlusDays(day);
}
