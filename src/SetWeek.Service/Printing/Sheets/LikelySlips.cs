using SetWeek.Domain.Nights;
using SetWeek.Service.Words;

namespace SetWeek.Service.Printing.Sheets;

/// <summary>
/// What to do if the likeliest slips of the night happen. A slip is the likelier, the more of the time that a piece takes at its
/// longest, by its estimate, lies beyond its latest end.
/// </summary>
internal static class LikelySlips
{
    private const int Most = 2;

    public static IReadOnlyList<string> Of(NightFacts facts) =>
        [.. facts.Sheet.Pieces.Select(piece => (Piece: piece, Beyond: Beyond(facts, piece)))
            .Where(slip => slip.Beyond > 0).OrderByDescending(slip => slip.Beyond)
            .ThenBy(slip => slip.Piece.From.ToInstant()).Take(Most)
            .OrderBy(slip => slip.Piece.From.ToInstant()).Select(slip => Sentence(facts, slip.Piece))];

    /// <summary>Minutes beyond the latest end if the piece takes as long as its pessimistic estimate says.</summary>
    private static double Beyond(NightFacts facts, SheetPiece piece)
    {
        if (piece.LatestStart is null || piece.LatestEnd is not { } end) return 0;
        if (facts.TaskOf(piece) is not { Estimate: { } range } task) return 0;
        var planned = (piece.To - piece.From).TotalMinutes;
        // The estimate is of the whole task in its first mode.
        var longest = planned * range.Pessimistic / task.Modes[0].Minutes;
        return longest - planned - (end - piece.To).TotalMinutes;
    }

    private static string Sentence(NightFacts facts, SheetPiece piece)
    {
        var name = $"{piece.Number} {piece.NameAndPart()}";
        if (piece.Drop is not null)
            return $"{name}, not begun by {facts.Time(piece.LatestStart!.Value)}: put it off to another night. Nothing tonight "
                + "waits for it.";
        var waits = piece.Frees.Select(number => $"{number}").ToList();
        var then = waits.Count == 0 ? "" : $" {WeekLabels.Join(waits)} {(waits.Count == 1 ? "waits" : "wait")} for it.";
        var drop = facts.Sheet.DropFirst.Select(facts.Piece).OfType<SheetPiece>()
            .FirstOrDefault(other => other.Number != piece.Number && other.From.ToInstant() >= piece.From.ToInstant());
        return $"{name}, not ended by {facts.Time(piece.LatestEnd!.Value)}:{then} "
            + (drop is null ? "Nothing can be put off: the lead asks for another plan."
                : $"Put off first: {drop.Number} {drop.NameAndPart()}.");
    }
}
