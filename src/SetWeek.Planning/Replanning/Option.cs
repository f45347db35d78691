using SetWeek.Model.Weeks;
using SetWeek.Model.Plans;

namespace SetWeek.Planning.Replanning;

/// <summary>One way on that a lead may choose when facts have changed: a whole checked plan of the week as it stands.</summary>
/// <param name="Id">Of its kind; no two options of one re-plan share it.</param>
/// <param name="Name">In plain words.</param>
/// <param name="Sentence">What it was worked out for.</param>
/// <param name="Plan">Its goals are those that it was worked out for, in their order.</param>
/// <param name="Costs">What it comes to: the same goals in the same order for all options of one re-plan.</param>
public sealed record Option(string Id, string Name, string Sentence, Plan Plan, IReadOnlyList<OptionCost> Costs)
{
    public long Cost(GoalId goal) => Costs.First(cost => cost.Goal == goal).Value;
}

public sealed record OptionCost(GoalId Goal, long Value);

/// <summary>What a re-plan offers.</summary>
/// <param name="Plan">That of the first option; where there is none, why.</param>
/// <param name="Options">At most three, that with the fewest changes first.</param>
public sealed record ReplanOffer(Plan Plan, IReadOnlyList<Option> Options);

/// <summary>What a watcher sees of the options while they are looked for.</summary>
/// <param name="Elapsed">Since it began.</param>
/// <param name="Best">The plan so far of the first option, for the week's own goals.</param>
/// <param name="Options">Those that would be shown now.</param>
public sealed record OptionSearchProgress(TimeSpan Elapsed, Plan Best, IReadOnlyList<Option> Options);
