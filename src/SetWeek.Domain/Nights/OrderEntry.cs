using NodaTime;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Nights;

/// <summary>What a stretch of a person's shift is.</summary>
public enum OrderEntryKind
{
    Piece,
    Break,

    /// <summary>On shift, and nothing is planned.</summary>
    Free,

    /// <summary>The shift ends.</summary>
    Out,
}

/// <summary>A stretch of a person's shift.</summary>
/// <param name="Number">The number of the piece; absent for another kind.</param>
public sealed record OrderEntry(OrderEntryKind Kind, OffsetDateTime From, OffsetDateTime To, int? Number);

/// <summary>Writes a person's shift in order, so that no time in it is left unsaid.</summary>
internal static class OrderEntries
{
    /// <summary>A shorter time without work is the way from one place to the next.</summary>
    private static readonly Duration LeastFree = Duration.FromMinutes(10);

    /// <param name="own">The pieces of the person.</param>
    /// <param name="shift">Null for somebody who works without a planned shift.</param>
    public static IReadOnlyList<OrderEntry> Of(IReadOnlyList<SheetPiece> own, PlannedShift? shift)
    {
        var entries = own
            .Select(piece => new OrderEntry(OrderEntryKind.Piece, StartOf(piece), EndOf(piece), piece.Number)).ToList();
        if (shift is null) return InOrder(entries);
        if (shift.Break is { } rest) entries.Add(new OrderEntry(OrderEntryKind.Break, rest.From, rest.To, null));
        var busyUntil = shift.From;
        foreach (var entry in InOrder(entries))
        {
            AddFree(busyUntil, entry.From);
            if (entry.To.ToInstant() > busyUntil.ToInstant()) busyUntil = entry.To;
        }
        AddFree(busyUntil, shift.To);
        return [.. InOrder(entries), new OrderEntry(OrderEntryKind.Out, shift.To, shift.To, null)];

        void AddFree(OffsetDateTime from, OffsetDateTime to)
        {
            if (to.ToInstant() - from.ToInstant() >= LeastFree) entries.Add(new OrderEntry(OrderEntryKind.Free, from, to, null));
        }
    }

    private static IReadOnlyList<OrderEntry> InOrder(IReadOnlyList<OrderEntry> entries) =>
        [.. entries.OrderBy(entry => entry.From.ToInstant()).ThenBy(entry => entry.To.ToInstant())];

    private static OffsetDateTime StartOf(SheetPiece piece) => piece.Report?.From ?? piece.From;

    /// <summary>Work that began late lasts as long as planned, unless somebody has said how long.</summary>
    private static OffsetDateTime EndOf(SheetPiece piece) => piece.Report switch
    {
        { To: { } to } => to,
        { State: ReportedState.Running, From: { } from } => from.Plus(piece.To - piece.From),
        _ => piece.To,
    };
}
