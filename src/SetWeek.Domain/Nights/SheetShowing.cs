using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Showings;
using SetWeek.Domain.Weeks;

namespace SetWeek.Domain.Nights;

/// <summary>A display that is shown before its work begins, and to whom it was shown.</summary>
/// <param name="Name">The name of the display.</param>
/// <param name="People">Those who do the work, each with how they know the display.</param>
/// <param name="MayShow">Who may show it: the leads of the week, and those to whom it was shown.</param>
public sealed record SheetShowing(
    string Display, string Name, IReadOnlyList<SheetShown> People, IReadOnlyList<SheetPerson> MayShow)
{
    /// <summary>Those to whom it was not shown yet.</summary>
    public IEnumerable<SheetShown> NotYet() => People.Where(person => person.At is null);

    /// <param name="people">The ids of those who do the work.</param>
    public static SheetShowing Of(StoreWeek week, CrewFile crew, string display, IEnumerable<string> people)
    {
        var shown = ShownDisplay.Of(week, display);
        return new SheetShowing(display, week.Week.Displays.FirstOrDefault(known => known.Id == display)?.Name ?? display,
            [.. people.Select(person => StateOf(person, shown.Instructed.GetValueOrDefault(person)))],
            [.. shown.Leads.Concat(shown.Instructed.Keys.Order(StringComparer.Ordinal)).Distinct()
                .Select(person => NightSheets.PersonOf(crew, person))]);

        SheetShown StateOf(string person, Instruction? known) => new(person, NightSheets.PersonOf(crew, person).Name, known?.At,
            known?.ShownBy is { } by ? NightSheets.PersonOf(crew, by) : null,
            known?.RecordedBy is { } recorder ? NightSheets.PersonOf(crew, recorder) : null);
    }
}

/// <summary>Whether a person was shown a display.</summary>
/// <param name="At">Since when; absent if it was not shown to the person.</param>
/// <param name="ShownBy">Who showed it; absent for somebody who has shown it to others.</param>
/// <param name="RecordedBy">The lead who recorded it for the person; absent where the person signed.</param>
public sealed record SheetShown(
    string Person, string Name, OffsetDateTime? At, SheetPerson? ShownBy, SheetPerson? RecordedBy);
