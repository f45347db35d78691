using SetWeek.Model.Comparing;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;
using Spectre.Console;

namespace SetWeek.Cli.Tables;

/// <summary>Prints the difference between two plans: moved work, changed shifts, people to tell, wages.</summary>
internal sealed class ChangeTables(IAnsiConsole console, Week week)
{
    private readonly WeekLabels words = new(week);

    /// <param name="changes">From the old plan to the new one.</param>
    /// <param name="was">What the old plan is called.</param>
    public void Print(PlanChanges changes, string was = "as published")
    {
        console.WriteLine();
        if (changes is { Shifts.Count: 0, Work.Count: 0 })
        {
            console.WriteLine($"The plan {was} does not change.");
            return;
        }
        var moved = changes.Work.Where(change => change.ChangedNight && change.Work.Task is not null).ToList();
        if (moved.Count > 0)
        {
            var table = PlanTables.NewTable("Moved to another night", "Before (night of)", "Now (night of)");
            foreach (var change in moved)
                PlanTables.AddRow(table, words.WorkWithDisplay(change.Work), Place(change.NightWas, change.Was),
                    Place(change.NightNow, change.Now));
            console.Write(table);
        }
        var other = changes.Work.Count - moved.Count;
        if (other > 0)
            console.WriteLine($"{other} other {(other == 1 ? "piece" : "pieces")} of work with new times or people, "
                + "or clean-downs added or dropped.");
        Shifts(changes);
        if (changes.Notifications.Count > 0) console.WriteLine("People to tell:");
        foreach (var notification in changes.Notifications)
            foreach (var sentence in notification.Sentences)
                console.WriteLine($"  {words.Person(notification.Person)}: {sentence}");
        var more = changes.Cost.Now - changes.Cost.Was;
        console.WriteLine($"Wages: {Money.Of(changes.Cost.Was, week.Currency)} {was}, "
            + $"{Money.Of(changes.Cost.Now, week.Currency)} now"
            + (more == 0 ? ", the same." : $", {Money.Of(Math.Abs(more), week.Currency)} {(more > 0 ? "more" : "less")}."));
    }

    private void Shifts(PlanChanges changes)
    {
        if (changes.Shifts.Count == 0) return;
        var table = PlanTables.NewTable("Shifts changed", "Night", "Before", "Now", "");
        foreach (var change in changes.Shifts)
            PlanTables.AddRow(table, words.Person(change.Person),
                words.Night(change.Night) is { } night ? WeekLabels.Day(night.Opens) : change.Night,
                Hours(change.Was), Hours(change.Now), change.AtShortNotice ? "at short notice" : "");
        console.Write(table);
    }

    private string Place(string? night, PlannedWork? work) =>
        night is null || work is null ? "not planned"
        : $"{(words.Night(night) is { } known ? WeekLabels.Day(known.Opens) : night)}, "
            + $"{WeekLabels.Time(work.From.LocalDateTime)}";

    private static string Hours(PlannedShift? shift) =>
        shift is null ? "none" : $"{WeekLabels.Time(shift.From.LocalDateTime)}-{WeekLabels.Time(shift.To.LocalDateTime)}";
}
