using NodaTime;
using SetWeek.Domain.Checks;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;

namespace SetWeek.Domain.Closings;

/// <summary>The closing of a night: what is left, what is checked, and how it was closed.</summary>
/// <param name="Inside">Who is recorded as in the store, in the order in which they came.</param>
/// <param name="Unsigned">Work that is done, with checks that nobody has answered.</param>
/// <param name="Checks">What is checked before the store is locked.</param>
/// <param name="Zones">The zones of the store, which a lead may keep shut in the morning.</param>
/// <param name="Closed">Absent unless the night is closed.</param>
public sealed record NightClosing(
    string Week, string Night, string TimeZone, OffsetDateTime Opens, OffsetDateTime Closes, OffsetDateTime AsOf,
    SheetOpening? Opened, IReadOnlyList<SheetPerson> Inside, IReadOnlyList<SecuringWork> HalfSecured,
    IReadOnlyList<UnfinishedWork> Unfinished, IReadOnlyList<NamedZone> NotClean, IReadOnlyList<SheetStop> Stops,
    IReadOnlyList<UnsignedWork> Unsigned, IReadOnlyList<ClosingCheck> Checks, IReadOnlyList<NamedZone> Zones,
    ClosedNightRecord? Closed)
{
    /// <param name="sheet">The sheet of the night, of all people.</param>
    /// <param name="reasons">Reasons and decisions in words, by the id of their note.</param>
    public static NightClosing Of(
        StoreWeek week, CrewFile crew, NightSheet sheet, IReadOnlyDictionary<string, string> reasons)
    {
        var remains = NightRemains.Of(week, sheet.Night);
        return new NightClosing(week.Id, sheet.Night, sheet.TimeZone, sheet.Opens, sheet.Closes, sheet.AsOf, sheet.Opened,
            [.. remains.Inside.Select(person => NightSheets.PersonOf(crew, person))],
            [.. remains.HalfSecured.Select(left => new SecuringWork(left.Securing.Id, left.Securing.Name,
                NightSheets.ZoneName(week, left.Securing.Zone), left.Sentence)).DistinctBy(left => left.Task)],
            [.. remains.Unfinished.Select(work => UnfinishedOf(week, work))],
            [.. remains.NotClean.Select(zone => new NamedZone(zone.Id, zone.Name))], sheet.Stops,
            [.. sheet.Pieces.Where(piece => piece.UnsignedChecks().Count > 0).Select(piece => new UnsignedWork(piece.Number,
                piece.Name, piece.ZoneName, piece.Report!.People ?? piece.People, piece.UnsignedChecks()))],
            [.. StandardChecks.All.Closing.Select(check =>
                new ClosingCheck(check.Id, check.Sentence, check.IsRequired, check.Source))],
            [.. week.Week.Store.Zones.Select(zone => new NamedZone(zone.Id, zone.Name))],
            NightRecord.Of(week, sheet.Night).Closed is { } closed ? ClosedOf(week, sheet.Closed!, closed, reasons) : null);
    }

    private static ClosedNightRecord ClosedOf(
        StoreWeek week, SheetMark mark, NightClosed closed, IReadOnlyDictionary<string, string> reasons) => new(mark.At, mark.By,
        [.. closed.Answers.Select(answer => new ClosingAnswer(answer.Check, answer.Answer,
            reasons.GetValueOrDefault(ReasonNotes.ReasonIdOf(week.Id, closed.Report, answer.Check))))],
        closed.HalfSecured, [.. closed.ShutZones.Select(zone => new NamedZone(zone, NightSheets.ZoneName(week, zone)))],
        [.. closed.NotClean.Select(zone => new NamedZone(zone, NightSheets.ZoneName(week, zone)))],
        reasons.GetValueOrDefault(ReasonNotes.DecisionIdOf(week.Id, closed.Report)));

    private static UnfinishedWork UnfinishedOf(StoreWeek week, WorkStatus work)
    {
        var task = week.Week.Tasks.FirstOrDefault(task => task.Id == work.Subject.Task);
        return new UnfinishedWork(task?.Name ?? work.Subject.Task ?? "Clean-down",
            NightSheets.ZoneName(week, work.Subject.CleanDown ?? task?.Zone ?? ""), work.ReportedState,
            work.From is { } from ? StoreTime.AtStore(week, from) : null);
    }
}

/// <param name="Task">The task that would secure what is half-secured; a decision names it.</param>
public sealed record SecuringWork(string Task, string Name, string ZoneName, string Sentence);

/// <summary>Work that was begun and is not finished.</summary>
public sealed record UnfinishedWork(string Name, string ZoneName, ReportedState State, OffsetDateTime? From);

/// <param name="Number">The number of the piece.</param>
/// <param name="People">Who did it.</param>
/// <param name="Checks">Those that nobody has answered.</param>
public sealed record UnsignedWork(
    int Number, string Name, string ZoneName, IReadOnlyList<SheetPerson> People, IReadOnlyList<string> Checks);

public sealed record NamedZone(string Zone, string Name);

/// <param name="IsRequired">Whether the night cannot be closed while it fails.</param>
public sealed record ClosingCheck(string Id, string Sentence, bool IsRequired, string Source);

/// <summary>How a night was closed.</summary>
/// <param name="ShutZones">The zones that stay shut to customers in the morning.</param>
/// <param name="Why">Why something stays half-secured; absent if nothing does, or if the note was erased.</param>
public sealed record ClosedNightRecord(
    OffsetDateTime At, SheetPerson By, IReadOnlyList<ClosingAnswer> Answers, IReadOnlyList<HalfSecuredWork> HalfSecured,
    IReadOnlyList<NamedZone> ShutZones, IReadOnlyList<NamedZone> NotClean, string? Why);

public sealed record ClosingAnswer(string Check, CheckResult Answer, string? Why);
