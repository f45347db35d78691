using SetWeek.Model.Weeks;

namespace SetWeek.Model.Comparing;

/// <summary>The values of one goal in two plans, in the goal's unit. Smaller values are better.</summary>
/// <param name="Goal">Id of the goal.</param>
/// <param name="Was">Value in the first plan.</param>
/// <param name="Now">Value in the second plan.</param>
public sealed record GoalDifference(GoalId Goal, long Was, long Now)
{
    /// <summary>The change of the value; above 0 if the second plan is worse.</summary>
    public long Difference => Now - Was;
}
