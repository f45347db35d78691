using SetWeek.Model.Plans;

namespace SetWeek.Planning.Search;

/// <summary>A report of the running search: one for each better plan and for each better bound of the best plan.</summary>
/// <param name="Elapsed">Time since the search began.</param>
/// <param name="Best">
/// The best plan so far, checked against every rule, with the bounds proven so far. For a week that is proven to have no plan:
/// a plan file without nights, with the conflict and the repairs known so far.
/// </param>
public sealed record SearchProgress(TimeSpan Elapsed, Plan Best);
