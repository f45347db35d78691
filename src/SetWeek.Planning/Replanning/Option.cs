using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Reports;

namespace SetWeek.Planning.Replanning;

/// <summary>An option that a lead can choose when facts have changed: a complete, checked plan of the week.</summary>
/// <param name="Id">The id of its kind; unique among the options of one re-plan.</param>
/// <param name="Name">A short name for people.</param>
/// <param name="Sentence">What the plan was optimised for, in words.</param>
/// <param name="Plan">The plan; its goals are those of the week, in their order, whatever it was optimised for.</param>
/// <param name="Costs">Values of the compared goals; all options of one re-plan have the same goals in the same order.</param>
public sealed record Option(string Id, string Name, string Sentence, Plan Plan, IReadOnlyList<OptionCost> Costs)
{
    /// <summary>
    /// The chance that the plan holds, measured on fresh runs; null while the search runs, and where it was stopped.
    /// </summary>
    public HoldChance? Chance { get; init; }

    /// <summary>The value of a compared goal.</summary>
    /// <exception cref="InvalidOperationException">The goal is not compared.</exception>
    public long Cost(GoalId goal) => Costs.First(cost => cost.Goal == goal).Value;
}

/// <summary>The value of one goal for an option.</summary>
/// <param name="Goal">The goal.</param>
/// <param name="Value">In the unit of the goal; smaller is better.</param>
public sealed record OptionCost(GoalId Goal, long Value);

/// <summary>The result of a re-plan.</summary>
/// <param name="Plan">The plan of the first option. If there is no option, it says why.</param>
/// <param name="Options">At most three; the one with the fewest changes comes first.</param>
public sealed record ReplanOffer(Plan Plan, IReadOnlyList<Option> Options);

/// <summary>The state of an option search, reported while it runs.</summary>
/// <param name="Elapsed">Time since the start of the search.</param>
/// <param name="Best">The best plan so far for the week's own goals.</param>
/// <param name="Options">The options that would be returned now.</param>
public sealed record OptionSearchProgress(TimeSpan Elapsed, Plan Best, IReadOnlyList<Option> Options);
