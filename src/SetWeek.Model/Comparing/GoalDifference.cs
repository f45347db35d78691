using SetWeek.Model.Weeks;
namespace SetWeek.Model.Comparing;

/// <summary>A goal of two plans side by side, in its own units.</summary>
public sealed record GoalDifference(GoalId Goal, long Was, long Now)
{
    /// <summary>Above 0: the second plan is worse in it.</summary>
    public long Difference => Now - Was;
}
