using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Weeks;
using static SetWeek.Domain.Phrases;

namespace SetWeek.Domain.Sentences;

/// <summary>Describes a change of an open week in a sentence.</summary>
internal static class RevisionSentences
{
    public static string Of(StoreWeek week, CrewFile crew, IWeekRevision e) => e switch
    {
        Pinned pinned => $"{Capitalised(Subject(week.Week, crew, pinned.Pin))} was pinned.",
        Unpinned unpinned => week.Pins.Find(pin => pin.Id == unpinned.Id) is { } pin
            ? $"The pin on {Subject(week.Week, crew, pin.Pin)} was taken away." : "A pin was taken away.",
        _ => Of(week.Week, e),
    };

    private static string Of(Week week, IWeekRevision e) => e switch
    {
        NightSet { Night: { Bans.Count: 0 } night } =>
            $"{Capitalised(Night(night))} is open from {Time(night.Opens)} to {Time(night.Closes)}.",
        NightSet { Night: var night } =>
            $"{Capitalised(Night(night))} is open from {Time(night.Opens)} to {Time(night.Closes)}, with "
            + $"{List(night.Bans.Select(Ban))}.",
        NightDropped dropped => $"{Capitalised(Night(week, dropped.Night))} was dropped.",
        LaunchMoved moved => $"The launch was moved to {Time(moved.Launch)}.",
        RulesSet => "The rules were changed.",
        GoalsSet => "The goals of plans were changed.",
        ZoneSet { Zone: { MaxPeople: { } room } zone } => $"{zone.Name} was set: at most {room} people at work at once.",
        ZoneSet { Zone: var zone } => $"{zone.Name} was set: no limit of people at work.",
        EquipmentSet set => $"The store has {set.Equipment.Count} of “{IdWords.Spaced(set.Equipment.Id)}”.",
        DisplaySet { Display: { Commitment: DisplayCommitment.Must } display } => $"“{display.Name}” must be built.",
        DisplaySet { Display: var display } => $"“{display.Name}” is optional (value {display.Value}).",
        DisplayDropped dropped => $"{Display(week, dropped.Display)} was dropped from the week.",
        DisplayChoiceSet set => set.Choice switch
        {
            DisplayChoice.Build => $"{Display(week, set.Display)} is to be built.",
            DisplayChoice.UseAlternate => $"The alternate of {Display(week, set.Display)} is built instead of it.",
            DisplayChoice.LeaveOut => $"{Display(week, set.Display)} is left out.",
        },
        KitSet set => $"“{set.Name}” is shipped with "
            + $"{List(set.Lines.Select(line => $"{line.Expected} × {IdWords.Spaced(line.Item)}"))}.",
        KitDropped dropped => $"{Kit(week, dropped.Kit)} is not sent.",
        TasksRevised { Kind: TaskRevisionKind.Direction } revised =>
            $"The week follows version {revised.Version} of the direction. {Tasks(week, revised)}",
        TasksRevised revised => Tasks(week, revised),
        _ => throw new ArgumentException($"{e.GetType().Name} has no sentence.", nameof(e)),
    };

    private static string Subject(Week week, CrewFile crew, Pin pin) => pin switch
    {
        StintPin stint => Task(week, stint.Task),
        ShiftPin shift => $"the shift of {crew.NameOf(shift.Person)} in {Night(week, shift.Night)}",
        _ => throw new ArgumentException($"{pin.GetType().Name} has no words.", nameof(pin)),
    };

    private static string Ban(Ban ban) =>
        $"{ban.Trait} banned from {Time(ban.From)} to {Time(ban.To)}";

    private static string Tasks(Week week, TasksRevised revised)
    {
        string[] parts =
        [
            .. revised.Set.Count == 0 ? (string[])[] : [$"Tasks set: {List(revised.Set.Select(task => $"“{task.Name}”"))}."],
            .. revised.Dropped.Count == 0 ? (string[])[]
                : [$"Tasks dropped: {List(revised.Dropped.Select(task => Task(week, task)))}."],
        ];
        return parts.Length == 0 ? "No task changed." : string.Join(' ', parts);
    }
}
