namespace SetWeek.Model.Goals;

/// <summary>The list that a new goal adds its line to.</summary>
internal static class AllGoals
{
    private static readonly Dictionary<string, IGoal> ById = new IGoal[]
    {
        new LeftOutGoal(),
        new ReserveGoal(),
        new CostGoal(),
        new FinishGoal(),
        new NightsGoal(),
        new ShiftsGoal(),
        new MovesGoal(),
        new UnevenGoal(),
        new ChangesGoal(),
    }.ToDictionary(goal => goal.Id);

    public static IEnumerable<string> Ids => ById.Keys;
    public static IGoal WithId(string id) => ById[id];
    public static bool Contains(string id) => ById.ContainsKey(id);
}
