using SetWeek.Domain.Directions;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Weeks;

/// <summary>
/// How the displays of the direction are built in the store now: the scoping of the direction, and what was decided in the open
/// week since.
/// </summary>
public static class WeekScoping
{
    public static IReadOnlyList<ScopingDecision> Of(StoreWeek week) =>
        [.. week.Scoping.Where(decision => Holds(week, decision)), .. Chosen(week), .. Dropped(week)];

    /// <summary>Whether the open week is still as the direction was scoped.</summary>
    private static bool Holds(StoreWeek week, ScopingDecision decision)
    {
        if (week.DisplayChoices.ContainsKey(decision.Display)) return false;
        var display = week.Week.Displays.FirstOrDefault(display => display.Id == decision.Display);
        return decision.Outcome switch
        {
            ScopingOutcome.Alternate or ScopingOutcome.Dropped => display is null,
            ScopingOutcome.Elsewhere => display is not null,
            ScopingOutcome.NoAlternate => display is { Alternate: null },
        };
    }

    private static IEnumerable<ScopingDecision> Chosen(StoreWeek week) =>
        from display in week.Week.Displays
        where week.DisplayChoices.ContainsKey(display.Id)
        let alternate = week.DisplayChoices[display.Id] == DisplayChoice.UseAlternate ? NameOfAlternate(week, display) : null
        select alternate is null
            ? new ScopingDecision(display.Id, ScopingOutcome.Dropped, $"“{display.Name}” is left out: decided in this week.")
            : new ScopingDecision(display.Id, ScopingOutcome.Alternate,
                $"“{alternate}” replaces “{display.Name}”: decided in this week.");

    private static IEnumerable<ScopingDecision> Dropped(StoreWeek week) =>
        from display in week.DroppedDisplays.Values
        where week.Scoping.All(decision => decision.Display != display.Id || !Holds(week, decision))
        select new ScopingDecision(display.Id, ScopingOutcome.Dropped, $"“{display.Name}” was dropped from this week.");

    private static string? NameOfAlternate(StoreWeek week, Display display) => display.Alternate is not { } alternate ? null
        : week.Week.Displays.FirstOrDefault(other => other.Id == alternate.Display)?.Name ?? alternate.Display;
}
