using SetWeek.Model.Goals;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary>Maps each goal to its expression in the exact model.</summary>
internal static class GoalObjectives
{
    /// <summary>
    /// Posts the expression of a goal. In every plan of the model it can take a value of at most the goal's measure. Where
    /// <see cref="GoalExpression.IsExact"/> holds, its least value is the measure.
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
