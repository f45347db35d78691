using SetWeek.Model.Plans;

namespace SetWeek.Planning.Search;

/// <summary>What a watcher of the search sees: the best plan so far and what is proven of it.</summary>
public sealed record SearchProgress(TimeSpan Elapsed, Plan Best);
