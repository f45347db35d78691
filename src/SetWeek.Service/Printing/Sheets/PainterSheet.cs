using System.Globalization;
using SetWeek.Domain.Nights;

namespace SetWeek.Service.Printing.Sheets;

/// <summary>The walls and coats of the night, when each is dry, and a box for the readings of the air.</summary>
internal static class PainterSheet
{
    /// <summary>The trait and the skill by which directions name paint work (docs/formats.md).</summary>
    private const string Trait = "paint", Skill = "painting";

    private static readonly PaperColumn[] Walls =
    [
        new("No.", 9.5), new("Wall", 32, ColumnUse.Strong), new("Work", 0), new("Start no later than", 17), new("Dry by", 27),
        new("Colour", 24, ColumnUse.Blank), new("Batch", 24, ColumnUse.Blank),
    ];

    private static readonly PaperColumn[] Readings =
    [
        new("Readings of the air", 0, ColumnUse.Strong), new("Time", 17, ColumnUse.Blank), new("Air, °C", 17, ColumnUse.Blank),
        new("Wall, °C", 17, ColumnUse.Blank), new("% humid", 17, ColumnUse.Blank), new("Dew point", 17, ColumnUse.Blank),
        new("Dry by", 17, ColumnUse.Blank), new("Initials", 17, ColumnUse.Blank),
    ];

    /// <summary>A night with two coats and their preparation leaves no room for them on this side.</summary>
    private const string GatesElsewhere = "What must be so before a piece begins is signed on the sheet of its person.";

    private static readonly string[] Moments = ["begun", "ended"];

    public static PaperSheet Of(NightFacts facts, SheetPerson? person)
    {
        var pieces = facts.Sheet.Pieces.Where(piece => IsPaint(facts, piece)
            && (person is null || NightFacts.DoneBy(piece).Any(other => other.Person == person.Person))).ToList();
        var title = person is null ? "Painter's sheet" : $"Painter's sheet: {facts.Name(person)}";
        if (pieces.Count == 0) return facts.SheetOf(title, [new TextBlock("", "No paint work is planned in this night.")]);
        var blocks = pieces.Select(piece => PieceBlocks.Of(facts, piece, person?.Person)).ToList();
        var coats = pieces.Where(piece => facts.TaskOf(piece)!.Traits.Contains(Trait)).ToList();
        return facts.SheetOf(title,
        [
            new TextBlock("", string.Join(" ", [facts.Keys, .. facts.Bans,
                .. blocks.Any(block => block.Gates.Count > 0) ? [GatesElsewhere] : (string[])[]])),
            .. facts.LooksOf(pieces),
            new TableBlock(Walls, [.. pieces.Select(piece => WallOf(facts, piece))]),
            .. coats.Count == 0 ? Array.Empty<PaperBlock>()
                : [new HeadingBlock("Readings"), new TableBlock(Readings, [.. coats.SelectMany(ReadingsOf)])],
            .. blocks.Select(block => block with
                { Gates = [], Blanks = [.. block.Blanks.Where(blank => blank != PieceBlocks.Signed)] }),
        ]);
    }

    private static bool IsPaint(NightFacts facts, SheetPiece piece) => facts.TaskOf(piece) is { } task
        && (task.Traits.Contains(Trait) || task.Modes.Any(mode => mode.Roles.Any(role => role.Skill == Skill)));

    private static PaperRow WallOf(NightFacts facts, SheetPiece piece)
    {
        var next = facts.WaitingFor(piece).FirstOrDefault(work => work.From.ToInstant() >= piece.To.ToInstant());
        var then = next is null ? "" : $". Then {facts.WorkName(next)}, {facts.TimeAndDay(next.From)}";
        return new PaperRow([piece.Number.ToString(CultureInfo.InvariantCulture), piece.ZoneName,
            $"{piece.NameAndPart()}{then}", piece.LatestStart is { } latest ? facts.Time(latest) : "",
            facts.RestsUntil(piece) is { } dry ? facts.TimeAndDay(dry) : "", facts.ColoursOf(piece), ""], IsTall: true);
    }

    private static IEnumerable<PaperRow> ReadingsOf(SheetPiece piece) => Moments.Select(when =>
        new PaperRow([$"{piece.Number} {when}", "", "", "", "", "", "", ""], IsTall: true));
}
