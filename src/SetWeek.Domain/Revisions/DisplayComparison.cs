using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Changes;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Revisions;

/// <summary>Reads from a wanted week which displays it excludes, and so what the store decides about each.</summary>
internal static class DisplayComparison
{
    /// <summary>By display of the wanted week: what it decides.</summary>
    public static IReadOnlyDictionary<string, DisplayChoice> ChoicesOf(StoreWeek week, Week wanted)
    {
        var excluded = DisplayExclusion.ExcludedFrom(wanted);
        var withTasks = wanted.Tasks.Select(task => task.Display).ToHashSet(StringComparer.Ordinal);
        // An alternate is left out together with its display. That is one decision.
        var implied = wanted.Displays.Where(display => excluded.Contains(display.Id))
            .Select(display => display.Alternate?.Display).ToHashSet(StringComparer.Ordinal);
        return wanted.Displays.ToDictionary(display => display.Id, display =>
            // Without tasks, the exclusion of a display cannot be seen in a week.
            !withTasks.Contains(display.Id) ? week.DisplayChoices.GetValueOrDefault(display.Id)
            : !excluded.Contains(display.Id) || implied.Contains(display.Id) ? DisplayChoice.Build
            : display.Alternate is { } alternate && !excluded.Contains(alternate.Display) ? DisplayChoice.UseAlternate
            : DisplayChoice.LeaveOut, StringComparer.Ordinal);
    }

    /// <summary>A must that is not built, nor its alternate: whoever leaves it out makes it a want by that decision.</summary>
    public static IEnumerable<Fault> Faults(Week wanted, IReadOnlyDictionary<string, DisplayChoice> choices) =>
        wanted.Displays.Index()
            .Where(display => display.Item.Commitment == DisplayCommitment.Must
                && choices[display.Item.Id] == DisplayChoice.LeaveOut)
            .Select(display => new Fault($"/displays/{display.Index}/commitment",
                $"“{display.Item.Name}” must be built, or its alternate, and neither is. Decide first which of them is built."));

    /// <summary>
    /// The wanted week in which a must that is left out is a must again. The decision to leave it out makes it a want
    /// (<see cref="LeaveOut"/>), and that is no change of the display itself.
    /// </summary>
    public static Week Restored(Week before, Week lifted, IReadOnlyDictionary<string, DisplayChoice> choices)
    {
        var musts = before.Displays.Where(display => display.Commitment == DisplayCommitment.Must)
            .ToDictionary(display => display.Id, StringComparer.Ordinal);
        return lifted with
        {
            Displays = [.. lifted.Displays.Select(display => choices[display.Id] == DisplayChoice.LeaveOut
                && musts.TryGetValue(display.Id, out var must)
                && display == must with { Commitment = DisplayCommitment.Want, Value = LeaveOut.MaxValue } ? must : display)],
        };
    }
}
