using System.Globalization;
using NodaTime;
using SetWeek.Domain;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;

namespace SetWeek.Service.Printing.Sheets;

/// <summary>Where the kits are, and what is not as it was sent.</summary>
internal static class KitSentences
{
    /// <summary>The kits of the week by where they are, then the lines that are short or damaged.</summary>
    public static IReadOnlyList<string> Of(NightFacts facts)
    {
        var (good, uncounted, away, faults) = (new List<string>(), new List<string>(), new List<string>(), new List<string>());
        foreach (var kit in facts.Week.Kits)
        {
            faults.AddRange(kit.Lines.Select(Fault).OfType<string>().Select(fault => $"{kit.Name}: {fault}."));
            if (!facts.Arrivals.ContainsKey(kit.Id)) away.Add($"{kit.Name}, {Due(facts, kit.Eta)}");
            else if (kit.Lines.Any(line => line.Received is null)) uncounted.Add(kit.Name);
            else if (kit.Lines.All(line => Fault(line) is null)) good.Add(kit.Name);
        }
        return [.. List("Counted, all good", good), .. List("In, not counted", uncounted), .. faults, .. List("Not in", away)];
    }

    public static string Whereabouts(NightFacts facts, Kit kit) =>
        facts.Arrivals.TryGetValue(kit.Id, out var at) ? $"in since {facts.TimeAndDay(at)}{CountedBy(facts, kit)}"
            : Due(facts, kit.Eta);

    /// <summary>", counted by Asha Rowan"; empty if nobody has, or the reader may not know who.</summary>
    private static string CountedBy(NightFacts facts, Kit kit) =>
        facts.Counters.GetValueOrDefault(kit.Id, []) is { Count: > 0 } people
            ? $", counted by {WeekLabels.Join([.. people.Select(facts.Name)])}" : "";

    /// <summary>"expected Mon 8 Mar 16:00".</summary>
    public static string Due(NightFacts facts, LocalDateTime? eta) => eta is not { } due ? "nobody knows when it comes"
        : $"{(due < facts.Sheet.AsOf.LocalDateTime ? "due" : "expected")} "
            + due.ToString("ddd d MMM HH:mm", CultureInfo.InvariantCulture)
            + (due < facts.Sheet.AsOf.LocalDateTime ? ", not reported in" : "");

    private static IEnumerable<string> List(string what, List<string> kits) =>
        kits.Count == 0 ? [] : [$"{what}: {string.Join("; ", kits)}."];

    /// <summary>What a counted line lacks: "tin 1 of 4 missing"; null if it is not counted, or all is good.</summary>
    public static string? Fault(KitLine line)
    {
        if (line.Received is not { } received) return null;
        var parts = new List<string>();
        if (received < line.Expected) parts.Add($"{line.Expected - received} of {line.Expected} missing");
        if (line.Damaged is > 0) parts.Add($"{line.Damaged} damaged");
        return parts.Count == 0 ? null
            : $"{IdWords.Spaced(line.Item)} {string.Join(" and ", parts)}{(line.Settled ? ", work goes on without" : "")}";
    }
}
