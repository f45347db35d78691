using System.Globalization;
using OneOf;
using SetWeek.Domain.Reports;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Snags;

namespace SetWeek.Domain.Snags;

/// <summary>
/// The decisions to record a report on a snag. A report is a fact: it is refused only if it names something unknown, if its id
/// has another content, or if it accepts a danger.
/// </summary>
public static class SnagDecisions
{
    /// <summary>Records that a fault was found.</summary>
    /// <param name="raised">As stated: its number, its area and its task are found here.</param>
    /// <returns>The event; none for a repeated report.</returns>
    public static OneOf<IReadOnlyList<IWeekEvent>, Refusal> Raise(this StoreWeek week, SnagRaised raised)
    {
        // A piece may be gone from the plan when its report is repeated.
        if (week.Facts.Find(raised.Report) is not null) return Record(week, raised);
        if (OwnerFault(week, raised.Owner) is { } fault) return fault;
        return PlaceOf(week, raised).Match(
            placed =>
                Record(week, placed with { Number = week.Snags.NumberFor(placed, report => week.Facts.Find(report)?.Corrects) }),
            refusal => refusal);
    }

    /// <summary>Records that a snag was put right, reopened, handed on or accepted as it is.</summary>
    /// <param name="snag">The number of the snag, or the id of the report that raised it, which may still be on its way.</param>
    /// <param name="act">The report, from the id of the report that raised the snag.</param>
    /// <returns>The event; none for a repeated report.</returns>
    public static OneOf<IReadOnlyList<IWeekEvent>, Refusal> Act(this StoreWeek week, string snag, Func<string, ISnagReport> act)
    {
        if (ReportOf(week, snag) is not { } raised) return Refusal.NotFound("snag", snag);
        var report = act(raised);
        if (week.Facts.Find(report.Report) is null)
        {
            if (report is SnagHandedOn { Owner: { } owner } && OwnerFault(week, owner) is { } fault) return fault;
            if (report is SnagAcceptedOpen && StatusOf(week, raised) is { IsOpen: true, Raised.Safety: true } open)
                return new Refusal("safety-critical",
                    $"Somebody could be hurt by snag {open.Number}, so that it is not accepted as it is. Put it right, or close "
                    + "the place off and report that as a snag of its own.");
        }
        return Record(week, report);
    }

    /// <summary>Whether a text can be read as the number of a snag. No report that raises one has such an id.</summary>
    public static bool IsNumber(string text) => text.All(char.IsAsciiDigit);

    /// <summary>The snags of the week by number.</summary>
    public static IReadOnlyList<SnagStatus> AllSnags(this StoreWeek week) => SnagStatus.AllOf(week.Snags);

    private static string? ReportOf(StoreWeek week, string snag)
    {
        if (!IsNumber(snag)) return snag;
        return int.TryParse(snag, NumberStyles.None, CultureInfo.InvariantCulture, out var number)
            ? week.Snags.Numbers.Where(known => known.Value == number).Select(known => known.Key)
                .Order(StringComparer.Ordinal).FirstOrDefault()
            : null;
    }

    private static SnagStatus? StatusOf(StoreWeek week, string raised) =>
        week.Snags.Numbers.TryGetValue(raised, out var number) ? SnagStatus.Find(week.Snags, number) : null;

    private static OneOf<IReadOnlyList<IWeekEvent>, Refusal> Record(StoreWeek week, ISnagReport report) =>
        week.Recorded(report).MapT0(IReadOnlyList<IWeekEvent> (recorded) => recorded is null ? [] : [recorded]);

    private static Refusal? OwnerFault(StoreWeek week, SnagOwner owner) =>
        owner.Person is { } person && !week.Crew.Contains(person)
            ? new Refusal("unknown-person", $"\"{person}\" does not belong to the crew of this week. Name somebody of the crew.")
            : null;

    private static OneOf<SnagRaised, Refusal> PlaceOf(StoreWeek week, SnagRaised raised)
    {
        if (raised.Zone is { } zone)
            return week.Week.Store.Zones.Any(known => known.Id == zone) ? raised with { Area = zone }
                : new Refusal("unknown-zone", $"There is no zone \"{zone}\" in this store.");
        if (raised.Display is { } display)
            return week.Week.Displays.Any(known => known.Id == display) ? raised with { Area = ZoneOf(week, display) }
                : new Refusal("unknown-display", $"There is no display \"{display}\" in this week.");
        if (week.Published?.Pieces.Pieces.FirstOrDefault(known => known.Number == raised.Piece) is not { } piece)
            return new Refusal("unknown-piece", $"The published plan has no piece {raised.Piece}.");
        return raised with
        {
            Task = piece.Task,
            Area = piece.CleanDown ?? week.Week.Tasks.FirstOrDefault(task => task.Id == piece.Task)?.Zone,
        };
    }

    /// <summary>The zone of a display whose tasks are all in one.</summary>
    private static string? ZoneOf(StoreWeek week, string display) =>
        week.Week.Tasks.Where(task => task.Display == display).Select(task => task.Zone).Distinct().ToList() is [var only]
            ? only : null;
}
