using System.Globalization;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Nights;
using SetWeek.Service.Words;

namespace SetWeek.Service.Printing.Sheets;

/// <summary>
/// A person's dressing in the night, and its figures as the direction has them. Without them there are lines to write them on.
/// </summary>
internal static class DresserSheet
{
    /// <summary>Lines for figures: two groups of three (common practice, no source).</summary>
    private const int FigureLines = 6;

    private static readonly string[] Skills = ["dressing", "posing"];

    private static readonly PaperColumn[] Figures =
    [
        new("No.", 12, ColumnUse.Blank), new("Figure", 30, ColumnUse.Blank),
        new("Pieces, each with its size", 0, ColumnUse.Blank),
        new("Pose", 30, ColumnUse.Blank), new("Accessory", 30, ColumnUse.Blank), new("Pushed: it stands", 16, ColumnUse.Box),
    ];

    /// <summary>The sheet of each person who dresses or poses in the night; of the given person alone if there is one.</summary>
    public static IReadOnlyList<PaperSheet> Of(NightFacts facts, SheetPerson? person)
    {
        var people = person is not null ? [person]
            : facts.Sheet.Pieces.Where(piece => IsDressing(facts, piece)).SelectMany(NightFacts.DoneBy)
                .DistinctBy(dresser => dresser.Person).ToList();
        return people.Count > 0 ? [.. people.Select(dresser => SheetOf(facts, dresser))]
            : [facts.SheetOf("Dresser's sheet", [new TextBlock("", "No dressing is planned in this night.")])];
    }

    private static PaperSheet SheetOf(NightFacts facts, SheetPerson person)
    {
        var pieces = facts.Sheet.Pieces.Where(piece => IsDressing(facts, piece)
            && NightFacts.DoneBy(piece).Any(other => other.Person == person.Person)).ToList();
        var title = $"Dresser's sheet: {facts.Name(person)}";
        if (pieces.Count == 0) return facts.SheetOf(title, [new TextBlock("", "No dressing is planned for you in this night.")]);
        return facts.SheetOf(title,
        [
            .. pieces.Select(piece => PieceBlocks.Of(facts, piece, person.Person)),
            new HeadingBlock("Figure by figure"),
            .. facts.LooksOf(pieces),
            new TextBlock("", DressingSentences.Order),
            new TableBlock(Figures, RowsOf(facts.FiguresOf(pieces))),
        ]);
    }

    /// <summary>The figures of the direction; without any, lines to write them on.</summary>
    private static IReadOnlyList<PaperRow> RowsOf(IReadOnlyList<DirectedFigure> figures) => figures.Count == 0
        ? [.. Enumerable.Repeat(new PaperRow(["", "", "", "", "", ""], IsTall: true), FigureLines)]
        : [.. figures.Select((figure, index) => new PaperRow([(index + 1).ToString(CultureInfo.InvariantCulture), figure.Name,
            string.Join("; ", figure.Wears), figure.Pose ?? "", figure.Accessory ?? "", ""], IsTall: true))];

    private static bool IsDressing(NightFacts facts, SheetPiece piece) => facts.TaskOf(piece) is { } task
        && task.Modes.Any(mode => mode.Roles.Any(role => Skills.Contains(role.Skill)));
}
