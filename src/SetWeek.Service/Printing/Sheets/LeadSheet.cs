using System.Globalization;
using SetWeek.Domain.Nights;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;

namespace SetWeek.Service.Printing.Sheets;

/// <summary>The night in order, who is on and what they can do, what to do if it slips, kits and telephones.</summary>
internal static class LeadSheet
{
    private static readonly PaperColumn[] Order =
    [
        new("No.", 9), new("From–to", 21.5), new("Work", 0, ColumnUse.Strong), new("Where", 22), new("Who", 30),
        new("Latest start", 14), new("Frees", 16), new("Began", 13, ColumnUse.Blank), new("Ended", 13, ColumnUse.Blank),
    ];

    private static readonly PaperColumn[] OnShift =
    [
        new("Who", 48, ColumnUse.Strong), new("Shift", 25), new("Break", 25),
        new("Can do: 1 helps, 2 works alone, 3 leads", 0), new("In", 14.5, ColumnUse.Blank), new("Out", 14.5, ColumnUse.Blank),
    ];

    public static PaperSheet Of(NightFacts facts)
    {
        var (sheet, slips) = (facts.Sheet, LikelySlips.Of(facts));
        return facts.SheetOf("Lead's sheet",
        [
            Opening(facts),
            .. sheet.Pieces.Count == 0 ? (PaperBlock[])[new TextBlock("", "No work is planned in this night.")]
                : [new TableBlock(Order, [.. sheet.Pieces.Select(piece => RowOf(facts, piece))])],
            new HeadingBlock("Who is on"),
            new TableBlock(OnShift, [.. sheet.Shifts.Select(shift => RowOf(facts, shift))]),
            .. Absent(facts),
            new HalvesBlock(
                [new HeadingBlock("If it slips"), new ListBlock(ListMark.None, slips.Count > 0 ? slips
                    : ["No piece is likely to last beyond its latest end."])],
                [new HeadingBlock("Kits"), new ListBlock(ListMark.None, KitSentences.Of(facts))]),
            new BlanksBlock(["Telephone of security", "Telephone of head office", "Telephone of first aid"], Columns: 3),
        ]);
    }

    private static TextBlock Opening(NightFacts facts)
    {
        var sheet = facts.Sheet;
        var work = sheet.Pieces.Count == 0 ? ""
            : $" First work {facts.Time(sheet.Pieces.MinBy(piece => piece.From.ToInstant())!.From)}. Last work out by "
                + $"{facts.Time(sheet.Pieces.MaxBy(piece => piece.To.ToInstant())!.To)}.";
        return new TextBlock($"Opens {facts.Time(sheet.Opens)}.{work} Everybody out by {facts.Time(sheet.Closes)}.",
            string.Join(" ", facts.Bans.Prepend(facts.Keys)));
    }

    private static PaperRow RowOf(NightFacts facts, SheetPiece piece) => new(
    [
        piece.Number.ToString(CultureInfo.InvariantCulture), facts.Hours(piece.From, piece.To), piece.NameAndPart(),
        piece.ZoneName, facts.Short(NightFacts.DoneBy(piece)),
        piece.LatestStart is { } latest ? facts.Time(latest) : "", string.Join(" ", piece.Frees),
        NightFacts.Began(piece, facts), NightFacts.Ended(piece, facts),
    ]);

    private static PaperRow RowOf(NightFacts facts, SheetShift shift)
    {
        var person = new SheetPerson(shift.Person, shift.Name);
        var keys = facts.Sheet.Keyholder?.Person == shift.Person ? ", keys" : "";
        var home = shift.HomeBy is { } by ? $", home by {facts.Time(by)}" : "";
        return new PaperRow([$"{facts.Name(person)}{keys}{home}", facts.Hours(shift.From, shift.To),
            shift.Break is { } rest ? facts.Hours(rest.From, rest.To) : "none", SkillsOf(facts, shift.Person), "", ""]);
    }

    /// <summary>Keys are named beside the name, and what everybody can do is left out.</summary>
    private static string SkillsOf(NightFacts facts, string person)
    {
        var crew = facts.Sheet.Shifts.Select(shift => facts.Week.Crew.FirstOrDefault(member => member.Id == shift.Person))
            .OfType<CrewMember>().ToList();
        return string.Join(", ", (crew.FirstOrDefault(member => member.Id == person)?.Skills ?? new Dictionary<string, int>())
            .Where(skill => skill.Key != "keys" && (skill.Value > 1 || !crew.All(member => member.Skills.ContainsKey(skill.Key))))
            .OrderByDescending(skill => skill.Value).ThenBy(skill => skill.Key, StringComparer.Ordinal)
            .Select(skill => $"{skill.Key} {skill.Value}"));
    }

    private static IEnumerable<PaperBlock> Absent(NightFacts facts) => facts.Sheet.Absent.Count == 0 ? []
        : [new TextBlock("Not here tonight:", $"{WeekLabels.Join([.. facts.Sheet.Absent.Select(facts.Name)])}.")];
}
