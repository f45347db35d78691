using SetWeek.Model.Goals;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary>Which expression of the exact model stands for which goal.</summary>
internal static class GoalObjectives
{
    /// <summary>
    /// An expression that is never more than the goal's measure of any plan of the model and, where it says that it is exact,
    /// that minimising makes equal to it.
    /// </summary>
    public static GoalExpression Post(string goal, CpWeekModel model) => AllGoals.WithId(goal) switch
    {
        LeftOutGoal => LeftOutObjective.Post(model),
        ReserveGoal => ReserveObjective.Post(model),
        CostGoal => CostObjective.Post(model),
        FinishGoal => FinishObjective.Post(model),
        NightsGoal => NightsObjective.Post(model),
        ShiftsGoal => ShiftsObjective.Post(model),
        MovesGoal => MovesObjective.Post(model),
        UnevenGoal => UnevenObjective.Post(model),
        ChangesGoal => ChangesObjective.Post(model),
        _ => throw new ArgumentException($"The exact model has no expression for {goal}.", nameof(goal)),
    };
}
