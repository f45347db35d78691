using SetWeek.Model.Durations;
using SetWeek.Planning.Annealing.Parameters;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// Completes a partial schedule at any cost by <see cref="RuinAndRecreate"/>: it removes activities that block a missing stint
/// and inserts all missing stints again. The cost of a schedule is its missing work, in slots x people.
/// </summary>
internal sealed class FeasibilitySearch(CompactProblem compact, Ruin ruin, ActivityInsertion insertion, Rostering rostering,
    SerialInsertion serialInsertion, SplitMix64 random, FeasibilityParameters parameters) : IRuinAndRecreateSearch
{
    private readonly RuinAndRecreate loop = new(compact, insertion, rostering, serialInsertion, random, parameters.Step);
    private List<int> missing = [];

    public PartialSchedule Current => loop.Current;

    /// <summary>The stints missing in <see cref="Current"/>.</summary>
    public IReadOnlyList<int> Missing => missing;

    /// <summary>Work content of <see cref="Missing"/>.</summary>
    public int MissingWork => (int)loop.CurrentCost;

    /// <summary>True: no stint is missing.</summary>
    public bool IsComplete => missing.Count == 0;

    public void StartFrom(PartialSchedule schedule)
    {
        loop.Current.CopyFrom(schedule);
        missing = serialInsertion.MissingIn(schedule);
        loop.CurrentCost = missing.Sum(serialInsertion.WorkContent);
    }

    /// <summary>One step from an incomplete schedule; true if <see cref="Current"/> is now a complete plan.</summary>
    public bool Step()
    {
        if (!loop.Step(this, parameters.Temperature)) return false;
        missing = serialInsertion.MissingIn(loop.Current);
        return IsComplete;
    }

    void IRuinAndRecreateSearch.Remove(PartialSchedule trial)
    {
        // Earlier stints are drawn more often, because their successors wait for them.
        var stint = missing[Math.Min(random.NextBelow(missing.Count), random.NextBelow(missing.Count))];
        if (random.NextBoolean(parameters.Blockers)) ruin.RemoveBlockers(trial, stint);
        else ruin.Remove(trial, parameters.MinRemoved + random.NextBelow(parameters.MaxRemoved - parameters.MinRemoved + 1));
    }

    bool IRuinAndRecreateSearch.ChangeChoices(PartialSchedule trial) => false;

    double? IRuinAndRecreateSearch.CostWithin(PartialSchedule trial, double limit) =>
        serialInsertion.MissingWork > limit ? null : serialInsertion.MissingWork;
}
