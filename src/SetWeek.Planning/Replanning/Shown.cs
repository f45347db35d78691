namespace SetWeek.Planning.Replanning;

/// <summary>Which of the options found are shown: at most three, none that another beats, none that is nearly another.</summary>
internal static class Shown
{
    public const int Most = 3;

    /// <summary>As good as equal: wages within so many thousandths, ends within so many minutes.</summary>
    private const long NearlyThousandths = 5, NearlyMinutes = 15;

    /// <param name="found">In the order of their kinds, the one with the week's own goals first.</param>
    public static IReadOnlyList<Option> Of(IReadOnlyList<Option> found)
    {
        var shown = new List<Option>();
        foreach (var option in found)
            if (shown.Count < Most && !found.Any(other => Beats(other, option)) && !shown.Any(other => NearlyThe(other, option)))
                shown.Add(option);
        return shown;
    }

    /// <summary>No worse in any goal and better in one.</summary>
    public static bool Beats(Option one, Option other) =>
        one.Costs.Zip(other.Costs).All(pair => pair.First.Value <= pair.Second.Value)
        && one.Costs.Zip(other.Costs).Any(pair => pair.First.Value < pair.Second.Value);

    public static bool NearlyThe(Option one, Option other) =>
        one.Costs.Zip(other.Costs).All(pair => Nearly(pair.First, pair.Second));

    private static bool Nearly(OptionCost one, OptionCost other) => Math.Abs(one.Value - other.Value) <= one.Goal switch
    {
        "cost" => Math.Max(one.Value, other.Value) * NearlyThousandths / 1000,
        "finish" or "reserve" or "uneven" => NearlyMinutes,
        _ => 0,
    };
}
