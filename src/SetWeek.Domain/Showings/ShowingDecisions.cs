using OneOf;
using SetWeek.Domain.Reports;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;

namespace SetWeek.Domain.Showings;

/// <summary>The decision to record that a display was shown, and the rule that nobody begins its work before.</summary>
public static class ShowingDecisions
{
    /// <returns>The event; none for a repeated report.</returns>
    public static OneOf<IReadOnlyList<IWeekEvent>, Refusal> RecordShown(this StoreWeek week, DisplayShown shown)
    {
        if (week.Week.Displays.All(display => display.Id != shown.Display))
            return new Refusal("unknown-display", $"There is no display \"{shown.Display}\" in this week.");
        if (shown.To.Contains(shown.ShownBy))
            return new Refusal("shown-to-self",
                "Nobody shows a display to themselves. Name another person who showed it, or leave this one out.");
        // A lead need not be of the crew.
        var isLead = shown.ByLead && shown.ShownBy == shown.By
            || ShownDisplay.Of(week, shown.Display).Leads.Contains(shown.ShownBy);
        if (shown.To.Concat(isLead ? [] : [shown.ShownBy]).FirstOrDefault(person => !week.Crew.Contains(person)) is { } stranger)
            return new Refusal("unknown-person",
                $"\"{stranger}\" does not belong to the crew of this week. Add the person to the crew first.");
        return week.Recorded(shown).MapT0(IReadOnlyList<IWeekEvent> (recorded) => recorded is null ? [] : [recorded]);
    }

    /// <summary>
    /// Whether a report says that somebody begins work on a display that must be shown, and it was not shown to that person.
    /// </summary>
    /// <returns>Null if the work may begin.</returns>
    public static Refusal? NotShown(StoreWeek week, IWorkReport report)
    {
        if (report is not (WorkStarted or WorkResumed)
            || week.Week.Tasks.FirstOrDefault(task => task.Id == report.Subject.Task) is not { } task
            || !week.MustBeShown.Contains(task.Display))
            return null;
        var shown = ShownDisplay.Of(week, task.Display);
        var people = week.PeopleOf(report) is { Count: > 0 } known ? known : report.By is { } by ? [by] : [];
        var without = people.Where(person => !shown.IsKnownTo(person, report.EffectiveAt().ToInstant())).ToList();
        if (without.Count == 0) return null;
        var name = week.Week.Displays.FirstOrDefault(display => display.Id == task.Display)?.Name ?? task.Display;
        var whom = people.Count == 1 ? "the person who begins" : without.Count == people.Count ? "those who begin"
            : $"{without.Count} of the {people.Count} who begin";
        return new Refusal("not-shown", $"“{task.Name}” does not begin. Somebody can be hurt if this display is built wrongly: "
            + $"“{name}”. Before this start it was not shown to {whom}. Somebody who knows it shows it first. Then each person "
            + "signs, or the lead records it.")
        {
            Because = shown.Unsupported.Any(report => report.To.Intersect(without).Any())
                ? ["A signature names somebody to whom the display was not shown by then. The lead records who showed it."] : [],
        };
    }
}
