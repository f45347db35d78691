using SetWeek.Domain;
using SetWeek.Domain.Nights;
using SetWeek.Service.Words;

namespace SetWeek.Service.Printing.Sheets;

/// <summary>A piece of work with all that its people need at it.</summary>
internal static class PieceBlocks
{
    /// <summary>The label of the line on which somebody signs for what must be so before a piece begins.</summary>
    public const string Signed = "Signed";

    /// <param name="person">The id of whose sheet it is; null for a sheet of several people.</param>
    public static PieceBlock Of(NightFacts facts, SheetPiece piece, string? person)
    {
        var isDone = NightFacts.IsDone(piece);
        var began = NightFacts.Began(piece, facts);
        var showing = began == "" && piece.Showing?.NotYet().ToList() is { Count: > 0 } left ? left : null;
        IReadOnlyList<string> gates =
        [
            .. piece.GatesToSign().Select(gate => gate.Text),
            .. showing is null ? [] : (string[])[$"Somebody who knows “{piece.Showing!.Name}” has shown it to "
                + $"{WeekLabels.Join([.. showing.Select(person => facts.Short(new SheetPerson(person.Person, person.Name)))])}."],
        ];
        return new PieceBlock(facts.Time(piece.From),
        [
            $"to {facts.Time(piece.To)}",
            .. piece.LatestStart is { } latest ? [$"no later than {facts.Time(latest)}"] : Array.Empty<string>(),
            .. began == "" ? Array.Empty<string>() : [$"began {began}"],
            .. isDone ? [$"ended {NightFacts.Ended(piece, facts)}"] : Array.Empty<string>(),
        ],
            $"{piece.Number} {piece.NameAndPart()}", Where(facts, piece, person),
            isDone ? [] : piece.Cautions, isDone ? [] : piece.Steps, isDone ? [] : piece.Checks,
            isDone ? [] : began != "" ? ["Ended"]
                : [.. gates.Count > 0 ? [Signed] : (string[])[], .. showing is null ? [] : (string[])["Shown by"], "Began", "Ended"])
        {
            Gates = gates,
        };
    }

    /// <summary>"Feature wall, with Idris. Drill. 2 tin of Paint (in). Frees 117."</summary>
    private static string Where(NightFacts facts, SheetPiece piece, string? person)
    {
        var others = NightFacts.DoneBy(piece).Where(other => other.Person != person).Select(facts.Short).ToList();
        var company = (others.Count, person) switch
        {
            (0, null) => "no people needed",
            (0, _) => "alone",
            (_, null) => WeekLabels.Join(others),
            _ => $"with {WeekLabels.Join(others)}",
        };
        var sentences = new List<string> { $"{piece.ZoneName}, {company}." };
        if (ToolsOf(piece) is { Count: > 0 } tools) sentences.Add($"Tools: {string.Join(", ", tools)}.");
        sentences.AddRange(piece.Kits.GroupBy(line => line.Kit).Select(kit => Kit(facts, [.. kit])));
        if (piece.Frees.Count > 0) sentences.Add($"Frees {string.Join(", ", piece.Frees)}.");
        return string.Join(" ", sentences);
    }

    /// <summary>What it uses of the store's equipment, then the tools of its technique cards.</summary>
    private static IReadOnlyList<string> ToolsOf(SheetPiece piece) =>
    [
        .. piece.Equipment.Select(use => IdWords.Spaced(use.Equipment) + (use.Count > 1 ? $" × {use.Count}" : "")),
        .. piece.Cards.SelectMany(card => card.Tools).Distinct(),
    ];

    private static string Kit(NightFacts facts, IReadOnlyList<SheetKitLine> lines)
    {
        var items = lines.Where(line => line.Item is not null && line.Needed is not null)
            .Select(line => $"{IdWords.Spaced(line.Item!)} × {line.Needed}{CartonOf(facts, line)}{Missing(line)}").ToList();
        var what = items.Count == 0 ? "all" : string.Join(", ", items);
        return $"Pieces: {what} of {lines[0].KitName}, "
            + $"{(lines[0].Arrived is null ? KitSentences.Due(facts, lines[0].Eta) : "in")}.";
    }

    /// <summary>" from P4, P5"; empty if the direction does not say.</summary>
    private static string CartonOf(NightFacts facts, SheetKitLine line) =>
        facts.MarksOf(line.Kit, line.Item!) is { Length: > 0 } marks ? $" from {marks}" : "";

    private static string Missing(SheetKitLine line) =>
        line is { Received: { } received, Settled: false } && received - (line.Damaged ?? 0) < line.Needed
            ? $" ({received - (line.Damaged ?? 0)} good)" : "";
}
