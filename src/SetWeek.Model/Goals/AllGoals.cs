using SetWeek.Model.Weeks;

namespace SetWeek.Model.Goals;

/// <summary>The measure of every goal.</summary>
internal static class AllGoals
{
    private static readonly IGoal[] InOrder = [.. GoalIds.All.Select(Create)];

    /// <summary>The goal with an id.</summary>
    public static IGoal Of(GoalId id) => InOrder[(int)id];

    private static IGoal Create(GoalId id) => id switch
    {
        GoalId.LeftOut => new LeftOutGoal(),
        GoalId.Hold => new HoldGoal(),
        GoalId.Reserve => new ReserveGoal(),
        GoalId.Bare => new BareGoal(),
        GoalId.Cost => new CostGoal(),
        GoalId.Finish => new FinishGoal(),
        GoalId.Nights => new NightsGoal(),
        GoalId.Shifts => new ShiftsGoal(),
        GoalId.Handovers => new HandoversGoal(),
        GoalId.Moves => new MovesGoal(),
        GoalId.Uneven => new UnevenGoal(),
        GoalId.Changes => new ChangesGoal(),
        GoalId.Shuffled => new ShuffledGoal(),
    };
}
