using System.Globalization;
using NodaTime;
using SetWeek.Model.Weeks;
using SetWeek.Service.Pages.Kits;
using SetWeek.Service.Words;

namespace SetWeek.Service.Printing.Sheets;

/// <summary>
/// The kits that come by the end of the night, or that its work needs: each line that is not counted as sent has three boxes,
/// here and good, here and damaged, missing.
/// </summary>
internal static class ReceiverSheet
{
    private static readonly PaperColumn[] Lines =
    [
        new("Item", 0, ColumnUse.Strong), new("Sent", 14), new("Counted", 16), new("First needed", 34),
        new("Carton", 20, ColumnUse.Blank), new("Here, good", 15, ColumnUse.Box), new("Damaged", 15, ColumnUse.Box),
        new("Missing", 15, ColumnUse.Box), new("How many", 20, ColumnUse.Blank),
    ];

    /// <summary>The pack-out by carton. What a carton holds is said in the words of the direction.</summary>
    private static readonly PaperColumn[] Cartons =
    [
        new("Carton", 20, ColumnUse.Strong), new("Holds", 0), new("Here, good", 15, ColumnUse.Box),
        new("Damaged", 15, ColumnUse.Box), new("Missing", 15, ColumnUse.Box), new("What", 40, ColumnUse.Blank),
    ];

    public static PaperSheet Of(NightFacts facts)
    {
        var needed = facts.Sheet.Pieces.SelectMany(piece => piece.Kits).Select(line => line.Kit).ToHashSet();
        var kits = facts.Week.Kits.Where(kit => needed.Contains(kit.Id)
            || (kit.Eta is { } eta && eta < facts.Sheet.Closes.LocalDateTime && kit.Lines.Any(line => line.Received is null)))
            .OrderBy(kit => kit.Eta ?? LocalDateTime.MaxIsoValue).ToList();
        return facts.SheetOf("Receiver's sheet",
        [
            new TextBlock("Three answers a line:", "here and good, here and damaged, missing. Count against the list, the day it "
                + "lands. Photograph damage in its carton before anything is unwrapped."),
            .. kits.Count == 0 ? (PaperBlock[])[new TextBlock("", "No kit is expected or needed in this night.")]
                : [.. kits.SelectMany(kit => BlocksOf(facts, kit))],
            new HeadingBlock("Written down"),
            new BlanksBlock(["Came at", "Driver's note no.", "Cartons taken in", "Counted by", "Photographs of damage", "Signed"],
                Columns: 3),
        ]);
    }

    private static IEnumerable<PaperBlock> BlocksOf(NightFacts facts, Kit kit)
    {
        var open = kit.Lines.Where(line => line.Received is null || KitSentences.Fault(line) is not null).ToList();
        if (kit.Lines.Count > 0 && open.Count == 0)
        {
            yield return new TextBlock($"{kit.Name}:", $"{KitSentences.Whereabouts(facts, kit)}; all as sent.");
            yield break;
        }
        yield return new HeadingBlock($"{kit.Name}: {KitSentences.Whereabouts(facts, kit)}");
        if (facts.CartonsOf(kit.Id) is { Count: > 0 } cartons)
            yield return new TableBlock(Cartons, [.. cartons.Select(carton =>
                new PaperRow([carton.Mark, string.Join("; ", carton.Holds), "", "", "", ""]))]);
        yield return new TableBlock(Lines, open.Count > 0 ? [.. open.Select(line => RowOf(facts, kit, line))]
            : [new PaperRow(["The whole kit", "", "", FirstNeeded(facts, kit.Id, null), "", "", "", "", ""])]);
    }

    private static PaperRow RowOf(NightFacts facts, Kit kit, KitLine line) => new(
    [
        KitWords.Item(line.Item), line.Expected.ToString(CultureInfo.InvariantCulture),
        line.Received?.ToString(CultureInfo.InvariantCulture) ?? "", FirstNeeded(facts, kit.Id, line.Item),
        facts.MarksOf(kit.Id, line.Item), "", "", "", "",
    ]);

    /// <summary>The start of the first planned work that needs the item, such as "Mon 20:15".</summary>
    private static string FirstNeeded(NightFacts facts, string kit, string? item) => facts.Plan.Nights
        .SelectMany(night => night.Work).Where(work => facts.Week.Tasks.Any(task => task.Id == work.Task
            && task.Needs.Any(need => need.Kit == kit && (need.Item ?? item) == item)))
        .Select(work => work.From).OrderBy(from => from.ToInstant()).Cast<OffsetDateTime?>().FirstOrDefault() is { } first
            ? $"{first.LocalDateTime.ToString("ddd", CultureInfo.InvariantCulture)} {WeekLabels.Time(first.LocalDateTime)}" : "";
}
