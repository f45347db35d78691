using SetWeek.Model.Weeks;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Planning.Exact.Goals;

/// <summary>Which expression of the exact model stands for which goal.</summary>
internal static class GoalObjectives
{
    /// <summary>
    /// An expression that is never more than the goal's measure of any plan of the model and, where it says that it is exact,
    /// that minimising makes equal to it.
    /// </summary>
    public static GoalExpression Post(GoalId goal, CpWeekModel model) => goal switch
    {
        GoalId.LeftOut => LeftOutObjective.Post(model),
        GoalId.Reserve => ReserveObjective.Post(model),
        GoalId.Cost => CostObjective.Post(model),
        GoalId.Finish => FinishObjective.Post(model),
        GoalId.Nights => NightsObjective.Post(model),
        GoalId.Shifts => ShiftsObjective.Post(model),
        GoalId.Moves => MovesObjective.Post(model),
        GoalId.Uneven => UnevenObjective.Post(model),
        GoalId.Changes => ChangesObjective.Post(model),
    };
}
