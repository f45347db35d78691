using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Nights;

/// <summary>Writes the sheet of a night.</summary>
public static class NightSheets
{
    /// <param name="week">A week whose plan is published.</param>
    /// <param name="night">A night of the week.</param>
    /// <param name="now">By the clock of planning.</param>
    /// <param name="person">The id of a person of the crew, to whose pieces the sheet is narrowed; null: all pieces.</param>
    /// <param name="direction">
    /// The direction in the version of the week, for cartons and technique cards; null leaves them out.
    /// </param>
    public static NightSheet Of(
        StoreWeek week, CrewFile crew, Night night, NightMargins margins, Instant now, string? person = null,
        Direction? direction = null)
    {
        var published = week.Published!;
        var planned = published.Plan.Nights.FirstOrDefault(planned => planned.Night == night.Id)
            ?? new PlannedNight { Night = night.Id };
        var all = new SheetPieces(week, crew, planned, margins, direction).InOrder;
        var own = person is null ? all : [.. all.Where(piece => SheetPieces.IsOf(piece, person))];
        var record = NightRecord.Of(week, night.Id);
        return new NightSheet(week.Id, night.Id, published.Pieces.Nights.FirstOrDefault(known => known.Night == night.Id)?.Number,
            week.Week.Store.TimeZone, At(week, night.Opens), At(week, night.Closes), published.PlanId, published.Issue.Number,
            published.Issue.By, published.Issue.At, now.InZone(StoreTime.ZoneOf(week)).ToOffsetDateTime(),
            published.Broken is null, planned.Keyholder is { } keyholder ? PersonOf(crew, keyholder) : null,
            [.. night.Bans.Select(ban => new SheetBan(ban.Trait, At(week, ban.From), At(week, ban.To)))],
            [.. planned.Shifts.OrderBy(shift => shift.From.ToInstant()).Select(shift => new SheetShift(
                shift.Person, PersonOf(crew, shift.Person).Name, shift.From, shift.To, shift.Break,
                margins.HomeBy.TryGetValue(shift.Person, out var home) ? home : null))],
            [.. week.Absences.Where(absence => absence.Night == night.Id)
                .OrderBy(absence => absence.Person, StringComparer.Ordinal).Select(absence => PersonOf(crew, absence.Person))],
            [.. week.StandingStops.Where(stop => stop.Night == night.Id).Select(stop => new SheetStop(
                stop.Report, stop.Zone, stop.Zone is { } zone ? ZoneName(week, zone) : null, stop.EffectiveAt()))],
            person is null ? null : OrderOf(crew, own, person, planned.Shifts.FirstOrDefault(shift => shift.Person == person)),
            person is null ? own : [.. own.Select(piece => piece with { Partners = SheetPieces.PartnersOf(piece, person) })],
            [.. all.Where(piece => piece.Drop is not null).OrderBy(piece => piece.Drop).Select(piece => piece.Number)])
        {
            Opened = record.Opened is { } opened ? new SheetOpening(StoreTime.AtStore(week, opened.EffectiveAt()),
                PersonOf(crew, opened.By), PersonOf(crew, opened.FirstAider)) : null,
            Closed = record.Closed is { } closed ? new SheetMark(
                StoreTime.AtStore(week, closed.EffectiveAt()), PersonOf(crew, closed.By)) : null,
        };
    }

    internal static SheetPerson PersonOf(CrewFile crew, string person) => new(person, crew.Find(person)?.Name ?? person);

    internal static string ZoneName(StoreWeek week, string id) =>
        week.Week.Store.Zones.FirstOrDefault(zone => zone.Id == id)?.Name ?? id;

    private static OffsetDateTime At(StoreWeek week, LocalDateTime local) =>
        StoreTime.InstantOf(week, local).InZone(StoreTime.ZoneOf(week)).ToOffsetDateTime();

    private static SheetOrder OrderOf(CrewFile crew, IReadOnlyList<SheetPiece> own, string person, PlannedShift? shift)
    {
        int[] Numbers(Func<SheetReport?, bool> wanted) =>
            [.. own.Where(piece => wanted(piece.Report)).Select(piece => piece.Number)];
        return new SheetOrder(person, PersonOf(crew, person).Name, Numbers(report => report?.State == ReportedState.Done),
            Numbers(SheetPieces.IsUnderWay),
            Numbers(report => report?.State != ReportedState.Done && !SheetPieces.IsUnderWay(report)),
            OrderEntries.Of(own, shift));
    }
}
