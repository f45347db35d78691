namespace SetWeek.Model.Weeks;

/// <summary>A goal asked for, and how far it may end above its best value for the sake of the goals after it.</summary>
/// <param name="Goal">Id of the goal.</param>
/// <param name="TolerancePercent">Allowed excess over the best value, in percent.</param>
public sealed record GoalChoice(GoalId Goal, int TolerancePercent = 0)
{
    /// <summary>Largest value that the tolerance allows, rounded down.</summary>
    /// <param name="best">The goal's best value, in the goal's unit.</param>
    public long LargestAllowed(long best) => best + best * TolerancePercent / 100;
}
