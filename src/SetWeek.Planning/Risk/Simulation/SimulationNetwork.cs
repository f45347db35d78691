using SetWeek.Model.Problems;
using SetWeek.Planning.Risk.Distributions;

namespace SetWeek.Planning.Risk.Simulation;

/// <summary>
/// A plan as the order in which it is worked: pieces by their planned start (those begun first, the final floor clean after all
/// of its night), each with what it waits for. Made once; every run goes through it.
/// </summary>
internal sealed class SimulationNetwork
{
    private readonly Dictionary<int, int> activityOfStint = [];

    public SimulationNetwork(Problem problem, Schedule schedule, RiskOptions options)
    {
        Problem = problem;
        GraceMinutes = options.GraceMinutes;
        NightLimits = new NightLimits(problem, schedule);
        Resources = new RenewableResources(problem);
        var planned = new SimulatedActivityBuilder(problem, schedule, Resources, new DurationModel(problem, options)).InOrder();
        for (var index = 0; index < planned.Count; index++)
            if (planned[index].Stint >= 0) activityOfStint[planned[index].Stint] = index;
        var pieces = new SimulatedActivity[planned.Count];
        // Backwards: what follows in the same night is known when the piece before it asks.
        for (var index = pieces.Length - 1; index >= 0; index--) pieces[index] = WithPredecessors(planned, pieces, index);
        Activities = pieces;
        Retries = new RetryTimetable(problem, pieces);
    }

    public Problem Problem { get; }

    /// <summary>How much later than the rules allow work may be expected to end and is begun all the same.</summary>
    public int GraceMinutes { get; }
    public NightLimits NightLimits { get; }
    public RenewableResources Resources { get; }
    public IReadOnlyList<SimulatedActivity> Activities { get; }
    public RetryTimetable Retries { get; }

    /// <summary>The piece that a task ends with; null where it is not planned.</summary>
    public int? LastActivityOf(IndexedTask task) => activityOfStint.TryGetValue(task.LastStint, out var piece) ? piece : null;

    private SimulatedActivity WithPredecessors(IReadOnlyList<SimulatedActivity> planned, SimulatedActivity[] linked, int index)
    {
        var activity = planned[index];
        if (activity.Kind == SimulatedActivityKind.Break) return activity;
        var arcs = new List<SimulatedPrecedence>();
        var sameNight = -1;
        if (activity.Kind == SimulatedActivityKind.Stint)
        {
            var task = Problem.Tasks[activity.Task];
            if (activity.Stint > task.FirstStint && activityOfStint.TryGetValue(activity.Stint - 1, out var before) && before < index)
                arcs.Add(new SimulatedPrecedence(before, 0));
            foreach (var precedence in task.Precedences)
            {
                if (LastActivityOf(Problem.Tasks[precedence.Predecessor]) is not { } earlier || earlier >= index) continue;
                arcs.Add(new SimulatedPrecedence(earlier, precedence.LagMinutes));
                // Once the night is over there is nothing left to be done in it.
                var over = Problem.Nights[planned[earlier].Night].Closes <= (Problem.Facts?.Now ?? -Problem.Never);
                if (precedence.SameNight && !over) sameNight = earlier;
            }
        }
        arcs.AddRange(ZoneClosingPrecedences(planned, index));
        int[] followers = [.. Enumerable.Range(index + 1, linked.Length - index - 1)
            .Where(later => linked[later].SameNightAs == index)];
        return activity with
        {
            Predecessors = arcs,
            SameNightAs = sameNight,
            Tail = followers.Select(later => linked[later])
                .Select(later => later.Predecessors.First(arc => arc.Predecessor == index).Lag + later.MostLikelyMinutes + later.Tail)
                .DefaultIfEmpty().Max(),
            // Where those who follow cannot come, neither can this one be put off to.
            EligibleCrewByNight = [.. activity.EligibleCrewByNight.Select((there, night) =>
                followers.All(later => linked[later].EligibleCrewByNight[night] is not null) ? there : null)],
        };
    }

    /// <summary>
    /// Tasks that close the zone and were planned to end before this starts; a task that closes it waits for all before it.
    /// </summary>
    private IEnumerable<SimulatedPrecedence> ZoneClosingPrecedences(IReadOnlyList<SimulatedActivity> planned, int index)
    {
        var activity = planned[index];
        if (activity.Kind == SimulatedActivityKind.Begun) yield break;
        for (var earlier = 0; earlier < index; earlier++)
        {
            var other = planned[earlier];
            if (other.Zone != activity.Zone || other.Task == activity.Task || other.Zone < 0) continue;
            if (ClosesZone(other) && (activity.PlannedFrom >= other.PlannedTo || activity.Kind == SimulatedActivityKind.AddedCleanDown))
                yield return new SimulatedPrecedence(earlier, Problem.Tasks[other.Task].ClosesZoneMinutes);
            else if (ClosesZone(activity) && other.PlannedTo <= activity.PlannedFrom && !other.IsCleanDown)
                yield return new SimulatedPrecedence(earlier, 0);
        }
    }

    private bool ClosesZone(SimulatedActivity activity) =>
        activity.Task >= 0 && Problem.Tasks[activity.Task] is { ClosesZoneMinutes: > 0 } task && activity.Stint == task.LastStint;
}
