using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Weeks;

/// <summary>Describes a change of an open week in a sentence. People appear as ids.</summary>
public static class RevisionSentences
{
    public static string Of(Week week, IWeekRevision e) => e switch
    {
        NightSet { Night: { Bans.Count: 0 } night } =>
            $"The night {night.Id} is open from {Phrases.Time(night.Opens)} to {Phrases.Time(night.Closes)}.",
        NightSet { Night: var night } =>
            $"The night {night.Id} is open from {Phrases.Time(night.Opens)} to {Phrases.Time(night.Closes)}, with "
            + $"{Phrases.List(night.Bans.Select(Ban))}.",
        NightDropped dropped => $"The night {dropped.Night} was dropped.",
        LaunchMoved moved => $"The launch was moved to {Phrases.Time(moved.Launch)}.",
        RulesSet => "The rules were set anew.",
        GoalsSet => "The goals of plans were set anew.",
        ZoneSet { Zone: { MaxPeople: { } room } zone } => $"{zone.Name} was set: at most {room} people at work at once.",
        ZoneSet { Zone: var zone } => $"{zone.Name} was set: no limit of people at work.",
        EquipmentSet set => $"The store has {set.Equipment.Count} of {set.Equipment.Id}.",
        DisplaySet { Display: { Commitment: DisplayCommitment.Must } display } => $"{display.Name} must be built.",
        DisplaySet { Display: var display } => $"{display.Name} is a want of value {display.Value}.",
        DisplayDropped dropped => $"{Display(week, dropped.Display)} was dropped from the week.",
        DisplayChoiceSet set => set.Choice switch
        {
            DisplayChoice.Build => $"{Display(week, set.Display)} is to be built.",
            DisplayChoice.UseAlternate => $"The alternate of {Display(week, set.Display)} is built instead of it.",
            DisplayChoice.LeaveOut => $"{Display(week, set.Display)} is left out.",
        },
        KitSet set => $"{set.Name} is shipped with "
            + $"{Phrases.List(set.Lines.Select(line => $"{line.Expected} of {line.Item}"))}.",
        KitDropped dropped => $"{week.Kits.FirstOrDefault(kit => kit.Id == dropped.Kit)?.Name ?? dropped.Kit} is not sent.",
        TasksRevised { Kind: TaskRevisionKind.Direction } revised =>
            $"The week follows version {revised.Version} of the direction. {Tasks(week, revised)}",
        TasksRevised revised => Tasks(week, revised),
        Pinned { Pin: StintPin pin } => $"{Task(week, pin.Task)} was pinned.",
        Pinned { Pin: ShiftPin pin } => $"The shift of \"{pin.Person}\" in {pin.Night} was pinned.",
        Unpinned unpinned => $"The pin {unpinned.Id} was taken away.",
        _ => throw new ArgumentException($"{e.GetType().Name} has no sentence.", nameof(e)),
    };

    private static string Ban(Ban ban) =>
        $"{ban.Trait} banned from {Phrases.Time(ban.From)} to {Phrases.Time(ban.To)}";

    private static string Tasks(Week week, TasksRevised revised)
    {
        string[] parts =
        [
            .. revised.Set.Count == 0 ? (string[])[] : [$"Tasks set: {Phrases.List(revised.Set.Select(task => task.Name))}."],
            .. revised.Dropped.Count == 0 ? (string[])[]
                : [$"Tasks dropped: {Phrases.List(revised.Dropped.Select(task => Task(week, task)))}."],
        ];
        return parts.Length == 0 ? "No task changed." : string.Join(' ', parts);
    }

    private static string Task(Week week, string id) => week.Tasks.FirstOrDefault(task => task.Id == id)?.Name ?? id;

    private static string Display(Week week, string id) =>
        week.Displays.FirstOrDefault(display => display.Id == id)?.Name ?? id;
}
