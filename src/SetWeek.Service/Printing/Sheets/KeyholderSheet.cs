using SetWeek.Domain.Checks;
using SetWeek.Domain.Nights;

namespace SetWeek.Service.Printing.Sheets;

/// <summary>Who is in the building, when each came and went, and what is done before the door is locked: no codes.</summary>
internal static class KeyholderSheet
{
    private const int Visitors = 3;

    private static readonly PaperColumn[] People =
    [
        new("Who", 0, ColumnUse.Strong), new("Shift", 34), new("Home by", 22), new("Has keys", 18),
        new("In", 22, ColumnUse.Blank), new("Out", 22, ColumnUse.Blank),
    ];

    /// <summary>What is checked at every closing, then what is done at the door.</summary>
    private static readonly string[] LockUp =
        [.. StandardChecks.All.Closing.Concat(StandardChecks.All.LockUp).Select(check => check.Sentence)];

    /// <summary>
    /// The alarm's own time is of the building, and a telephone may be a person's own: nothing of either is stored, so they are
    /// written in by hand.
    /// </summary>
    private static readonly string[] Written =
    [
        "Opened at", "Opened by", "First aid tonight", "Telephone of security", "Second keyholder", "Alarm arms by itself at",
        "Security told at", "Keys counted by", "Alarm set at", "Alarm set by", "Locked by", "Signed",
    ];

    public static PaperSheet Of(NightFacts facts)
    {
        var sheet = facts.Sheet;
        var last = sheet.Pieces.MaxBy(piece => piece.To.ToInstant()) is { } piece
            ? $"The last work ends at {facts.Time(piece.To)}." : "No work is planned.";
        return facts.SheetOf("Keyholder's sheet",
        [
            new TextBlock(
                $"Opens {facts.Time(sheet.Opens)}. Everybody out by {facts.Time(sheet.Closes)}, before the alarm is set.",
                $"{last} {facts.Keys}"),
            new HeadingBlock("Who is on site"),
            new TableBlock(People, [.. sheet.Shifts.Select(shift => RowOf(facts, shift)),
                .. Enumerable.Repeat(new PaperRow(["Visitor:", "", "", "", "", ""], IsTall: true), Visitors)]),
            .. sheet.Absent.Count == 0 ? Array.Empty<PaperBlock>()
                : [new TextBlock("Not here tonight:", $"{string.Join(", ", sheet.Absent.Select(facts.Name))}.")],
            new HeadingBlock("Lock-up"),
            new ListBlock(ListMark.Box, LockUp, Columns: 2),
            new HeadingBlock("Written down"),
            new BlanksBlock(Written, Columns: 2),
        ]);
    }

    private static PaperRow RowOf(NightFacts facts, SheetShift shift) => new(
    [
        facts.Name(new SheetPerson(shift.Person, shift.Name)), facts.Hours(shift.From, shift.To),
        shift.HomeBy is { } home ? facts.Time(home) : "", HasKeys(facts, shift.Person), "", "",
    ], IsTall: true);

    private static string HasKeys(NightFacts facts, string person) =>
        facts.Sheet.Keyholder?.Person == person ? "tonight"
            : facts.Week.Crew.Any(member => member.Id == person && member.Keyholder) ? "may hold" : "";
}
