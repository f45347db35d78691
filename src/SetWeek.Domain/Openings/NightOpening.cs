using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks;

namespace SetWeek.Domain.Openings;

/// <summary>The opening of a night: who is there, and what is said aloud.</summary>
/// <param name="Opened">Absent unless the night is opened.</param>
/// <param name="People">Those with a shift, by its start; then whoever else came; then those who are absent.</param>
/// <param name="Others">The rest of the crew: nobody expects them tonight.</param>
public sealed record NightOpening(
    string Week, string Night, string TimeZone, OffsetDateTime Opens, OffsetDateTime Closes, OffsetDateTime AsOf,
    SheetOpening? Opened, SheetMark? Closed, IReadOnlyList<NightPerson> People, IReadOnlyList<SheetPerson> Others,
    IReadOnlyList<BriefingItem> Briefing)
{
    /// <param name="sheet">The sheet of the night, of all people.</param>
    /// <param name="changes">What this issue of the plan changes in the night, a sentence each.</param>
    public static NightOpening Of(StoreWeek week, CrewFile crew, NightSheet sheet, IReadOnlyList<string> changes)
    {
        var record = NightRecord.Of(week, sheet.Night);
        var expected = sheet.Shifts.Where(shift => sheet.Absent.All(absent => absent.Person != shift.Person)
            || record.People.ContainsKey(shift.Person)).ToList();
        var came = record.People.Keys.Where(person => expected.All(shift => shift.Person != person)).ToList();
        var absent = sheet.Absent.Where(person => !record.People.ContainsKey(person.Person)).ToList();
        var named = expected.Select(shift => shift.Person).Concat(came)
            .Concat(absent.Select(person => person.Person)).ToHashSet();
        return new NightOpening(
            week.Id, sheet.Night, sheet.TimeZone, sheet.Opens, sheet.Closes, sheet.AsOf, sheet.Opened, sheet.Closed,
            [
                .. expected.Select(shift => PersonOf(shift.Person, shift)), .. came.Select(person => PersonOf(person, null)),
                .. absent.Select(person =>
                    new NightPerson(person.Person, person.Name, null, null, null, NightPresence.Absent, null)),
            ],
            [.. week.Crew.Where(person => !named.Contains(person)).Select(person => NightSheets.PersonOf(crew, person))
                .OrderBy(person => person.Name, StringComparer.Ordinal)],
            Openings.Briefing.Of(week, sheet, changes));

        NightPerson PersonOf(string person, SheetShift? shift)
        {
            var presence = record.People.GetValueOrDefault(person);
            return new NightPerson(person, NightSheets.PersonOf(crew, person).Name, shift?.From, shift?.To, shift?.HomeBy,
                presence switch { null => NightPresence.NotYet, { IsHere: true } => NightPresence.Here, _ => NightPresence.Left },
                presence?.Since);
        }
    }
}

/// <summary>Somebody of the crew in a night.</summary>
/// <param name="From">The start of the shift; absent without one.</param>
/// <param name="Since">When the person came, or left; absent otherwise.</param>
public sealed record NightPerson(
    string Person, string Name, OffsetDateTime? From, OffsetDateTime? To, OffsetDateTime? HomeBy, NightPresence Presence,
    OffsetDateTime? Since);

/// <summary>NotYet: expected, and not recorded yet. Absent: not expected tonight.</summary>
public enum NightPresence { NotYet, Here, Left, Absent }
