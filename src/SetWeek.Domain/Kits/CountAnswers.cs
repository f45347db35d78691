using OneOf;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Domain.Kits;

/// <summary>What somebody who counts says of a line.</summary>
/// <param name="Received">The pieces that came, damaged ones included; null for as many as the list says.</param>
/// <param name="Damaged">The damaged pieces among them.</param>
public sealed record CountAnswer(string Item, int? Received, int Damaged = 0);

/// <summary>Turns what was said of lines into counts.</summary>
public static class CountAnswers
{
    /// <summary>Records the arrival of a kit with what was said of its lines (<see cref="KitDecisions.KitIsIn"/>).</summary>
    public static OneOf<IReadOnlyList<IWeekEvent>, Refusal> KitIsCounted(
        this StoreWeek week, string report, string kit, ReportTime time, IReadOnlyList<CountAnswer> answers,
        bool complete = false, string? corrects = null, string? by = null)
    {
        var listed = week.Week.Kits.FirstOrDefault(known => known.Id == kit)?.Lines ?? [];
        var lines = answers.Select(answer => new CountedLine(answer.Item,
                answer.Received ?? listed.FirstOrDefault(line => line.Item == answer.Item)?.Expected ?? answer.Damaged,
                answer.Damaged))
            .ToList();
        return lines.FirstOrDefault(line => line.Damaged > line.Received) is { } wrong
            ? new Refusal("more-damaged",
                $"{wrong.Damaged} of {wrong.Item} are said to be damaged, and only {wrong.Received} came. "
                + "Say how many came.")
            : week.KitIsIn(report, kit, time, lines, complete, corrects, by);
    }
}
