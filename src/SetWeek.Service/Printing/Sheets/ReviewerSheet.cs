using SetWeek.Domain.Checks;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Work.Gates;

namespace SetWeek.Service.Printing.Sheets;

/// <summary>What is looked at before the morning: the checks of the night's work, widths, photographs and snags.</summary>
internal static class ReviewerSheet
{
    private const int SnagLines = 3;

    private static readonly string[] Look = [.. StandardChecks.All.WalkThrough.Select(check => check.Sentence)];

    private static readonly PaperColumn[] Places =
    [
        new("Where", 0, ColumnUse.Strong), new("Narrowest way, mm", 30, ColumnUse.Blank),
        new("Least allowed", 30, ColumnUse.Blank),
        new("Photographed from", 52, ColumnUse.Blank), new("Photograph", 22, ColumnUse.Box),
    ];

    private static readonly PaperColumn[] Snags =
    [
        new("Snag: what is not right", 0, ColumnUse.Blank), new("Where", 34, ColumnUse.Blank), new("Owner", 28, ColumnUse.Blank),
        new("Due", 22, ColumnUse.Blank),
    ];

    public static PaperSheet Of(NightFacts facts)
    {
        var work = facts.Sheet.Pieces.Where(piece => piece.Checks.Count > 0).ToList();
        return facts.SheetOf("Reviewer's sheet",
        [
            new ListBlock(ListMark.Box, Look, Columns: 2),
            new HeadingBlock("Widths and photographs"),
            new TableBlock(Places, [.. Zones(facts).Select(zone => new PaperRow([zone, "", "", "", ""], IsTall: true))]),
            new HeadingBlock("Snags"),
            new TableBlock(Snags, [.. Enumerable.Repeat(new PaperRow(["", "", "", ""], IsTall: true), SnagLines)]),
            new BlanksBlock(["Looked at by", "Signed, time"], Columns: 2),
            .. work.Count == 0 ? Array.Empty<PaperBlock>()
                : [new HeadingBlock("Checks of tonight's work"),
                    new ListBlock(ListMark.Box, [.. ChecksOf(work)], Columns: 2)],
        ]);
    }

    private static IEnumerable<string> Zones(NightFacts facts) => facts.Sheet.Pieces.Select(piece => piece.ZoneName).Distinct();

    /// <summary>The checks of each piece of its own; then each usual check once, with the numbers of its pieces.</summary>
    private static IEnumerable<string> ChecksOf(IReadOnlyList<SheetPiece> pieces)
    {
        var usual = UsualGates.Known.After.Select(gate => gate.Text).ToList();
        return
        [
            .. from piece in pieces
                let own = piece.Checks.Except(usual).ToList()
                where own.Count > 0
                select $"{piece.Number} {piece.NameAndPart()}: {string.Join(" ", own)}",
            .. from check in usual
                let numbers = pieces.Where(piece => piece.Checks.Contains(check)).Select(piece => piece.Number).ToList()
                where numbers.Count > 0
                select $"{string.Join(", ", numbers)}: {check}",
        ];
    }
}
