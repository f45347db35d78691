using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>
/// A display of the direction and the ways to answer for it: built, its alternate instead, or (a want) left out.
/// </summary>
internal sealed class DisplayDecision
{
    /// <summary>The choice of a want that is left out.</summary>
    public const int LeftOut = 2;

    /// <summary>Index of the display; the alternate's, or -1.</summary>
    public required int Display { get; init; }

    public required int Alternate { get; init; }

    /// <summary>Stints to place when it is built, and when its alternate is; fixed ones not among them.</summary>
    public required int[] DisplayStints { get; init; }

    public required int[] AlternateStints { get; init; }

    /// <summary>Choices open, cheapest first: 0 built, 1 its alternate, 2 left out.</summary>
    public required int[] OpenChoices { get; init; }

    /// <summary>By choice: what it adds to leftOut.</summary>
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

    private static bool IsPossible(CompactProblem compact, int choice, IndexedDisplay display, IndexedDisplay? alternate) =>
        choice == LeftOut || StintsOf(compact, choice == 0 ? display : alternate!).All(stint => compact.Activities[stint].Modes.Length > 0);

    private static int[] StintsOf(CompactProblem compact, IndexedDisplay display) =>
        [.. display.Tasks.SelectMany(task =>
            Enumerable.Range(compact.Problem.Tasks[task].FirstStint, compact.Problem.Tasks[task].StintCount))
            .Where(stint => !compact.Activities[stint].HasBegun)];
}
