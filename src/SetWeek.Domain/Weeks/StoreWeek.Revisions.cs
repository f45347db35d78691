using System.Collections.Immutable;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.ListEdits;

namespace SetWeek.Domain.Weeks;

/// <summary>What decisions of a lead or of head office change in an open week.</summary>
public sealed partial record StoreWeek
{
    /// <summary>Where each task of the week comes from, by its id.</summary>
    public ImmutableSortedDictionary<string, TaskOrigin> TaskOrigins { get; init; } =
        ImmutableSortedDictionary.Create<string, TaskOrigin>(StringComparer.Ordinal);

    /// <summary>The displays for which the store has decided something else than <see cref="DisplayChoice.Build"/>.</summary>
    public ImmutableSortedDictionary<string, DisplayChoice> DisplayChoices { get; init; } =
        ImmutableSortedDictionary.Create<string, DisplayChoice>(StringComparer.Ordinal);

    /// <summary>The displays by which people can be hurt: they are shown before their work begins.</summary>
    public ImmutableHashSet<string> MustBeShown { get; init; } = [];

    /// <summary>The displays that were taken out of the open week, as they last were.</summary>
    public ImmutableSortedDictionary<string, Display> DroppedDisplays { get; init; } =
        ImmutableSortedDictionary.Create<string, Display>(StringComparer.Ordinal);

    /// <summary>The pins, in the order in which they were set.</summary>
    public ImmutableList<WeekPin> Pins { get; init; } = [];

    /// <summary>The ids of the pins that were taken away.</summary>
    public ImmutableHashSet<string> Unpinned { get; init; } = [];

    /// <summary>The number of all pins that the week has had.</summary>
    public int PinCount => Pins.Count + Unpinned.Count;

    private StoreWeek WithOrigins(WeekOpened opened) => this with
    {
        TaskOrigins = TaskOrigins.SetItems(opened.Week.Tasks.Select(task =>
            KeyValuePair.Create(task.Id, new TaskOrigin(opened.Direction, opened.DirectionVersion)))),
        Pins = [.. opened.Week.Pins.Select((pin, index) => new WeekPin(WeekPin.IdOf(index + 1), pin))],
    };

    private StoreWeek Revised(IWeekRevision e) => e switch
    {
        // Nights are in time order. Two of them may swap their times, so that the order is made anew each time.
        NightSet set => this with
        {
            Week = Week with
            {
                Nights = [.. Put(Week.Nights, set.Night, night => night.Id).OrderBy(night => night.Opens)
                    .ThenBy(night => night.Closes)],
            },
        },
        // A night that is set again under the same id is a new one, from which nobody is absent.
        NightDropped dropped => this with
        {
            Week = Week with { Nights = Drop(Week.Nights, dropped.Night, night => night.Id) },
            Absences = Absences.Except(Absences.Where(absence => absence.Night == dropped.Night)),
        },
        LaunchMoved moved => this with { Week = Week with { Launch = moved.Launch } },
        RulesSet set => this with { Week = Week with { Rules = set.Rules } },
        GoalsSet set => this with
        {
            Week = Week with { Goals = set.Goals, ReplanGoals = set.ReplanGoals, Hold = set.Hold },
        },
        ZoneSet set => WithStore(store => store with { Zones = Put(store.Zones, set.Zone, zone => zone.Id) }),
        EquipmentSet set =>
            WithStore(store => store with { Equipment = Put(store.Equipment, set.Equipment, item => item.Id) }),
        DisplaySet set => this with
        {
            Week = Week with { Displays = Put(Week.Displays, set.Display, display => display.Id) },
            DroppedDisplays = DroppedDisplays.Remove(set.Display.Id),
        },
        DisplayDropped dropped => this with
        {
            Week = Week with { Displays = Drop(Week.Displays, dropped.Display, display => display.Id) },
            DisplayChoices = DisplayChoices.Remove(dropped.Display),
            DroppedDisplays = DroppedDisplays.SetItems(Week.Displays.Where(display => display.Id == dropped.Display)
                .Select(display => KeyValuePair.Create(display.Id, display))),
        },
        DisplayChoiceSet { Choice: DisplayChoice.Build } set => this with { DisplayChoices = DisplayChoices.Remove(set.Display) },
        DisplayChoiceSet set => this with { DisplayChoices = DisplayChoices.SetItem(set.Display, set.Choice) },
        KitSet set => WithShipped(set),
        KitDropped dropped => this with { Week = Week with { Kits = Drop(Week.Kits, dropped.Kit, kit => kit.Id) } },
        TasksRevised revised => Revised(revised),
        Pinned pinned => WithPins(Pins.Add(new WeekPin(pinned.Id, pinned.Pin))),
        Unpinned unpinned => WithPins(Pins.RemoveAll(pin => pin.Id == unpinned.Id)) with { Unpinned = Unpinned.Add(unpinned.Id) },
        _ => throw new ArgumentException($"No state follows from {e.GetType().Name}; add its case.", nameof(e)),
    };

    private StoreWeek Revised(TasksRevised revised)
    {
        var tasks = Week.Tasks.Where(task => !revised.Dropped.Contains(task.Id)).ToList();
        return this with
        {
            DirectionVersion = revised.Version,
            Scoping = revised.Scoping ?? Scoping,
            MustBeShown = revised.MustBeShown is { } shown ? [.. shown] : MustBeShown,
            Week = Week with
            {
                Tasks = revised.Set.Aggregate((IReadOnlyList<WeekTask>)tasks, (all, task) => Put(all, task, other => other.Id)),
            },
            TaskOrigins = TaskOrigins.RemoveRange(revised.Dropped).SetItems(
                revised.Set.Select(task => KeyValuePair.Create(task.Id, OriginOf(task.Id, revised)))),
        };
    }

    private TaskOrigin OriginOf(string task, TasksRevised revised) => (revised.Kind, TaskOrigins.GetValueOrDefault(task)) switch
    {
        // A task that somebody added to the week may have to change with the direction: its predecessor may be dropped.
        (TaskRevisionKind.Direction, { Author: not null } added) => added,
        (TaskRevisionKind.Direction, _) => new TaskOrigin(revised.Direction, revised.Version, revised.Memo),
        (TaskRevisionKind.Store, { } origin) => origin with { RevisedBy = revised.By },
        (TaskRevisionKind.Store, null) => new TaskOrigin(revised.Direction, revised.Version, revised.Memo, Author: revised.By),
    };

    /// <summary>Counts of lines that are still shipped stay.</summary>
    private StoreWeek WithShipped(KitSet set)
    {
        var before = Week.Kits.FirstOrDefault(kit => kit.Id == set.Kit);
        var kit = new Kit(set.Kit, set.Name, before?.Eta)
        {
            Lines = [.. set.Lines.Select(line => before?.Lines.FirstOrDefault(counted => counted.Item == line.Item) is { } counted
                ? counted with { Expected = line.Expected } : new KitLine(line.Item, line.Expected))],
        };
        return this with { Week = Week with { Kits = Put(Week.Kits, kit, other => other.Id) } };
    }

    private StoreWeek WithPins(ImmutableList<WeekPin> pins) =>
        this with { Pins = pins, Week = Week with { Pins = [.. pins.Select(pin => pin.Pin)] } };

    private StoreWeek WithStore(Func<Store, Store> change) => this with { Week = Week with { Store = change(Week.Store) } };
}
