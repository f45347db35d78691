using SetWeek.Model.Weeks;
namespace SetWeek.Planning.Replanning;

/// <summary>Which of the options found are shown: at most three, none that another beats, none that is nearly another.</summary>
internal static class OptionSelection
{
    public const int MaxOptions = 3;

    /// <summary>As good as equal: wages within so many thousandths, ends within so many minutes.</summary>
    private const long CostToleranceThousandths = 5, TimeToleranceMinutes = 15;

    /// <param name="found">In the order of their kinds, the one with the week's own goals first.</param>
    public static IReadOnlyList<Option> Of(IReadOnlyList<Option> found)
    {
        var shown = new List<Option>();
        foreach (var option in found)
            if (shown.Count < MaxOptions && !found.Any(other => Dominates(other, option)) && !shown.Any(other => IsNearlyEqual(other, option)))
                shown.Add(option);
        return shown;
    }

    /// <summary>No worse in any goal and better in one.</summary>
    public static bool Dominates(Option one, Option other) =>
        one.Costs.Zip(other.Costs).All(pair => pair.First.Value <= pair.Second.Value)
        && one.Costs.Zip(other.Costs).Any(pair => pair.First.Value < pair.Second.Value);

    public static bool IsNearlyEqual(Option one, Option other) =>
        one.Costs.Zip(other.Costs).All(pair => IsWithinTolerance(pair.First, pair.Second));

    private static bool IsWithinTolerance(OptionCost one, OptionCost other) => Math.Abs(one.Value - other.Value) <= one.Goal switch
    {
        GoalId.Cost => Math.Max(one.Value, other.Value) * CostToleranceThousandths / 1000,
        GoalId.Finish or GoalId.Reserve or GoalId.Uneven => TimeToleranceMinutes,
        GoalId.LeftOut or GoalId.Nights or GoalId.Shifts or GoalId.Moves or GoalId.Changes => 0,
    };
}
