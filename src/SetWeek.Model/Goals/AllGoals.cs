namespace SetWeek.Model.Goals;

/// <summary>Every goal. A new goal is added to this list.</summary>
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

    /// <summary>Ids of all goals.</summary>
    public static IEnumerable<string> Ids => ById.Keys;

    /// <summary>The goal with this id.</summary>
    /// <exception cref="KeyNotFoundException">There is no such goal.</exception>
    public static IGoal WithId(string id) => ById[id];

    /// <summary>True if there is a goal with this id.</summary>
    public static bool Contains(string id) => ById.ContainsKey(id);
}
