using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>
/// The decision for a display: it is built, its alternate is built instead, or an optional display is left out.
/// </summary>
internal sealed class DisplayDecision
{
    /// <summary>Choice of an optional display that is left out.</summary>
    public const int LeftOut = 2;

    /// <summary>Index of the display.</summary>
    public required int Display { get; init; }

    /// <summary>Index of its alternate; -1: none.</summary>
    public required int Alternate { get; init; }

    /// <summary>Stints of the display that have not begun.</summary>
    public required int[] DisplayStints { get; init; }

    /// <summary>Stints of the alternate that have not begun.</summary>
    public required int[] AlternateStints { get; init; }

    /// <summary>Open choices, lowest <see cref="LeftOutValues"/> first: 0 built, 1 its alternate, 2 left out.</summary>
    public required int[] OpenChoices { get; init; }

    /// <summary>By choice: value that it adds to the goal leftOut.</summary>
    public required int[] LeftOutValues { get; init; }

    public static DisplayDecision[] Of(CompactProblem compact)
    {
        var problem = compact.Problem;
        return [.. problem.Displays.Where(display => display.AlternateOf is null).Select(display =>
        {
            var alternate = display.Alternate is { } other ? problem.Displays[other] : null;
            int[] values = [0, display.AlternateValue, display.Value];
            var stays = problem.Facts?.StaysPlaced is { } placed
                ? placed[display.Index] ? 0 : alternate is not null && placed[alternate.Index] ? 1 : -1 : -1;
            var choices = Enumerable.Range(0, 3)
                .Where(choice => stays < 0 || choice == stays)
                .Where(choice => choice switch
                {
                    0 => true,
                    1 => alternate is not null && display.Tasks.Count > 0,
                    _ => !display.Must && display.Tasks.Count > 0 && alternate is not { Tasks.Count: 0 },
                })
                .OrderBy(choice => values[choice]).ThenBy(choice => choice);
            return new DisplayDecision
            {
                Display = display.Index,
                Alternate = alternate?.Index ?? -1,
                DisplayStints = StintsOf(compact, display),
                AlternateStints = alternate is null ? [] : StintsOf(compact, alternate),
                OpenChoices = [.. choices.Where(choice => IsPossible(compact, choice, display, alternate))
                    .DefaultIfEmpty(choices.First())],
                LeftOutValues = values,
            };
        })];
    }

    /// <summary>Has each stint of the choice a mode that could be placed in an empty schedule?</summary>
    private static bool IsPossible(CompactProblem compact, int choice, IndexedDisplay display, IndexedDisplay? alternate) =>
        choice == LeftOut
        || StintsOf(compact, choice == 0 ? display : alternate!).All(stint => compact.Activities[stint].Modes.Length > 0);

    private static int[] StintsOf(CompactProblem compact, IndexedDisplay display) =>
        [.. display.Tasks.SelectMany(task =>
            Enumerable.Range(compact.Problem.Tasks[task].FirstStint, compact.Problem.Tasks[task].StintCount))
            .Where(stint => !compact.Activities[stint].HasBegun)];
}
