using Google.OrTools.Sat;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary>Maps each goal to its expression in the exact model.</summary>
internal static class GoalObjectives
{
    /// <summary>
    /// Posts the expression of a goal. In every plan of the model it can take a value of at most the goal's measure. Where
    /// <see cref="GoalExpression.IsExact"/> holds, its least value is the measure.
    /// </summary>
    public static GoalExpression Post(GoalId goal, CpWeekModel model) => goal switch
    {
        GoalId.LeftOut => LeftOutObjective.Post(model),
        // The model has no scenarios. Its bounds of the goals after hold apply to plans that hold as well.
        GoalId.Hold => new GoalExpression(LinearExpr.Constant(0), IsExact: false),
        GoalId.Reserve => ReserveObjective.Post(model),
        GoalId.Bare => BareObjective.Post(model),
        GoalId.Cost => CostObjective.Post(model),
        GoalId.Finish => FinishObjective.Post(model),
        GoalId.Nights => NightsObjective.Post(model),
        GoalId.Shifts => ShiftsObjective.Post(model),
        GoalId.Handovers => HandoversObjective.Post(model),
        GoalId.Moves => MovesObjective.Post(model),
        GoalId.Uneven => UnevenObjective.Post(model),
        GoalId.Changes => ChangesObjective.Post(model),
        GoalId.Shuffled => ShuffledObjective.Post(model),
    };
}
