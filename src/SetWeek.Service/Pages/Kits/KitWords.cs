using System.Globalization;
using NodaTime;
using SetWeek.Domain;
using SetWeek.Domain.Kits;
using SetWeek.Service.Words;

namespace SetWeek.Service.Pages.Kits;

/// <summary>What pages say of kits.</summary>
internal static class KitWords
{
    public static string When(LocalDateTime time) => $"{WeekLabels.Day(time)} {WeekLabels.Time(time)}";

    public static string When(OffsetDateTime time) => When(time.LocalDateTime);

    public static bool IsCounted(KitSheet kit) =>
        kit.Arrived is not null && kit.Lines.All(line => line.State != LineState.NotCounted);

    public static IReadOnlyList<KitSheet.Line> ShortOf(KitSheet kit) =>
        [.. kit.Lines.Where(line => line.State == LineState.Short)];

    /// <summary>
    /// "One of three kits is here and counted. “Props” comes Wednesday 10 March 15:00. “Forms” is short of vase."
    /// </summary>
    public static string Summary(IReadOnlyList<KitSheet> kits, LocalDateTime now)
    {
        if (kits.Count == 0) return "No kit belongs to this week.";
        var counted = kits.Count(IsCounted);
        var first = kits.Count == 1 ? $"The one kit is {(counted == 1 ? "" : "not yet ")}here and counted."
            : $"{Capital(Number(counted))} of {Number(kits.Count)} kits {(counted == 1 ? "is" : "are")} here and counted.";
        var coming = kits.Where(kit => kit.Arrived is null).OrderBy(kit => kit.Eta is null).ThenBy(kit => kit.Eta)
            .Select(kit => kit.Eta is not { } eta ? $" Nobody knows when “{kit.Name}” comes."
                : eta < now ? $" “{kit.Name}” was said for {When(eta)}, and nobody has counted it in."
                : $" “{kit.Name}” comes {When(eta)}.");
        var lacking = kits.Where(kit => ShortOf(kit).Count > 0)
            .Select(kit =>
                $" “{kit.Name}” is short of {WeekLabels.Join([.. ShortOf(kit).Select(line => IdWords.Spaced(line.Item))])}.");
        return first + string.Concat(coming) + string.Concat(lacking);
    }

    /// <summary>How a kit stands, in a sentence or two.</summary>
    public static string Stand(KitSheet kit, LocalDateTime now)
    {
        if (kit.Arrived is not { } arrived)
            return kit.Eta is not { } eta ? "Not here, and nobody knows when it comes."
                : eta < now ? "It was to be here, and nobody has counted it in." : "Not here yet.";
        var open = kit.Lines.Where(line => line.State == LineState.NotCounted).Select(line => IdWords.Spaced(line.Item)).ToList();
        var flawed = kit.Lines.Where(line => line.Good < line.Expected).ToList();
        return $"Came {When(arrived)}. " + (open.Count == kit.Lines.Count ? "Not counted yet."
            : open.Count > 0 ? $"Not counted yet: {WeekLabels.Join(open)}."
            : $"Counted {When(kit.Counted!.Value)}{(kit.CountedBy is { } names ? $" by {WeekLabels.Join(names)}" : "")}: "
                + (flawed.Count == 0 ? "all here and good." : $"{WeekLabels.Join([.. flawed.Select(Count)])}."));
    }

    /// <summary>"4 good of 5 puddle sheet".</summary>
    private static string Count(KitSheet.Line line) => $"{line.Good} good of {line.Expected} {IdWords.Spaced(line.Item)}";

    /// <summary>"61 good, 1 damaged, 2 missing."</summary>
    public static string Counted(KitSheet.Line line)
    {
        var missing = Math.Max(0, line.Expected - line.Received!.Value);
        List<string> parts = [$"{line.Good} good"];
        if (line.Damaged > 0) parts.Add($"{line.Damaged} damaged");
        if (missing > 0) parts.Add($"{missing} missing");
        return $"{string.Join(", ", parts)}.";
    }

    /// <summary>What a line means for the work that needs it.</summary>
    public static string Meaning(KitSheet.Line line) => line.State switch
    {
        LineState.NotCounted => Needed(line),
        LineState.Enough => line.Needed == 0 ? "No piece of work asks for a number of it." : $"Enough. {Needed(line)}",
        LineState.Short =>
            $"{Capital(Number(line.Needed - line.Good!.Value))} short. {Needed(line)} It waits until the lead or head office "
            + "settles it, or the rest is counted.",
        LineState.Settled => $"The work goes on with {line.Good}. {Needed(line)}",
    };

    /// <summary>"“Lay the puddles” (401), Thursday 11 March 19:45, needs 5."</summary>
    public static string Needed(KitSheet.Line line) => line.NeededBy.Count == 0 ? "No work needs it."
        : $"{WeekLabels.Join([.. line.NeededBy.Select(Piece)])} {(line.NeededBy.Count == 1 ? "needs" : "need")} "
            + (line.Needed > 0 ? $"{line.Needed}." : "it.");

    public static string Piece(KitSheet.Piece piece) =>
        $"“{piece.Name}”{(piece.Number is { } number ? $" ({number})" : "")}{(piece.From is { } from ? $", {When(from)}" : "")}";

    /// <summary>"the fifth" of five where four are good; "the other 3" where more lack.</summary>
    public static string Rest(KitSheet.Line line) => line.Needed - line.Good!.Value == 1 && line.Needed <= Ordinals.Length
        ? $"the {Ordinals[line.Needed - 1]}" : $"the other {line.Needed - line.Good.Value}";

    private static readonly string[] Ordinals =
        ["first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"];

    public static string Number(int count) => count is >= 0 and <= 12
        ? ((string[])["none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
            "twelve"])[count]
        : count.ToString(CultureInfo.InvariantCulture);

    /// <summary>The name of an item at the start of a line: "Canopy frame".</summary>
    public static string Item(string item) => Capital(IdWords.Spaced(item));

    /// <summary>"carton P2", "cartons P4 and P5".</summary>
    public static string Cartons(IReadOnlyList<string> marks) =>
        $"{(marks.Count == 1 ? "carton" : "cartons")} {WeekLabels.Join(marks)}";

    private static string Capital(string text) => $"{char.ToUpperInvariant(text[0])}{text[1..]}";
}
