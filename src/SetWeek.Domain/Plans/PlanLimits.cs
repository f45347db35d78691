using SetWeek.Planning.Search;

namespace SetWeek.Domain.Plans;

/// <summary>The limit of a search: seconds, or an effort that gives the same plan on any machine.</summary>
/// <param name="ChancePercent">The chance to hold that the plan is made for; null: the week's own.</param>
public sealed record PlanLimits(double? Seconds, double? Effort, int Workers, int Seed, int? ChancePercent = null)
{
    public const int DefaultSeconds = 10, MostSeconds = 300, DefaultWorkers = 2, MostWorkers = 8;

    /// <summary>The limits as the planner takes them.</summary>
    /// <param name="defaultSeconds">The time where neither seconds nor an effort is given.</param>
    public SearchLimits ToSearch(int defaultSeconds = DefaultSeconds) => new()
    {
        Time = TimeSpan.FromSeconds(Seconds ?? defaultSeconds),
        Effort = Effort,
        Workers = Workers,
        Seed = Seed,
    };
}
