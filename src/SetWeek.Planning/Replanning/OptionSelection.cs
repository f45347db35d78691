using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Replanning;

/// <summary>Selects the options to show: at most three, no dominated one, and no two that are nearly equal.</summary>
internal static class OptionSelection
{
    public const int MaxOptions = 3;

    /// <summary>
    /// Options are nearly equal if wages differ by at most 0.5 %, times by at most 15 minutes, and chances by at most 2 points.
    /// </summary>
    private const long CostToleranceThousandths = 5, TimeToleranceMinutes = 15, ChanceTolerancePerMille = 20;

    /// <param name="found">In the order of their kinds; the one with the week's own goals comes first.</param>
    public static IReadOnlyList<Option> Of(IReadOnlyList<Option> found)
    {
        var shown = new List<Option>();
        foreach (var option in found)
            if (shown.Count < MaxOptions && !found.Any(other => Dominates(other, option))
                && !shown.Any(other => IsNearlyEqual(other, option)))
                shown.Add(option);
        return shown;
    }

    /// <summary>Pareto dominance: no worse in any goal and better in at least one.</summary>
    public static bool Dominates(Option first, Option second) =>
        first.Costs.Zip(second.Costs).All(pair => pair.First.Value <= pair.Second.Value)
        && first.Costs.Zip(second.Costs).Any(pair => pair.First.Value < pair.Second.Value);

    public static bool IsNearlyEqual(Option first, Option second) =>
        first.Costs.Zip(second.Costs).All(pair => IsWithinTolerance(pair.First, pair.Second));

    private static bool IsWithinTolerance(OptionCost first, OptionCost second) =>
        Math.Abs(first.Value - second.Value) <= first.Goal switch
    {
        GoalId.Cost or GoalId.Bare => Math.Max(first.Value, second.Value) * CostToleranceThousandths / 1000,
        GoalId.Hold => ChanceTolerancePerMille,
        GoalId.Finish or GoalId.Reserve or GoalId.Uneven => TimeToleranceMinutes,
        GoalId.LeftOut or GoalId.Nights or GoalId.Shifts or GoalId.Handovers or GoalId.Moves or GoalId.Changes
            or GoalId.Shuffled => 0,
    };
}
