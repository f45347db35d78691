using SetWeek.Model.Durations;
using SetWeek.Model.Problems;

namespace SetWeek.Model.Simulation;

/// <summary>
/// The activities of a plan in the order in which a run takes them, each with its predecessors. The order is by planned start,
/// night by night; work that has begun comes first, and the final floor clean comes last in its night. All runs share the
/// network.
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
        var linked = new SimulatedActivity[planned.Count];
        // Backwards, because an activity depends on those that must follow it in the same night.
        for (var index = linked.Length - 1; index >= 0; index--) linked[index] = WithPredecessors(planned, linked, index);
        Activities = linked;
        Retries = new RetryTimetable(problem, linked);
    }

    public Problem Problem { get; }

    /// <summary>See <see cref="RiskOptions.GraceMinutes"/>.</summary>
    public int GraceMinutes { get; }

    public NightLimits NightLimits { get; }
    public RenewableResources Resources { get; }
    public IReadOnlyList<SimulatedActivity> Activities { get; }
    public RetryTimetable Retries { get; }

    /// <summary>The last stint of a task; null if the task is not planned.</summary>
    public int? LastActivityOf(IndexedTask task) =>
        activityOfStint.TryGetValue(task.LastStint, out var activity) ? activity : null;

    private SimulatedActivity WithPredecessors(IReadOnlyList<SimulatedActivity> planned, SimulatedActivity[] linked, int index)
    {
        var activity = planned[index];
        if (activity.Kind == SimulatedActivityKind.Break) return activity;
        var (arcs, sameNight) = (new List<SimulatedPrecedence>(), new List<int>());
        if (activity.Kind == SimulatedActivityKind.Stint)
        {
            var task = Problem.Tasks[activity.Task];
            if (activity.Stint > task.FirstStint && activityOfStint.TryGetValue(activity.Stint - 1, out var before)
                && before < index)
                arcs.Add(new SimulatedPrecedence(before, 0));
            foreach (var precedence in task.Precedences)
            {
                if (LastActivityOf(Problem.Tasks[precedence.Predecessor]) is not { } earlier || earlier >= index) continue;
                arcs.Add(new SimulatedPrecedence(earlier, precedence.LagMinutes));
                // After the night is over, nothing can be done in it any more.
                var over = Problem.Nights[planned[earlier].Night].Closes <= (Problem.Facts?.Now ?? -Problem.Never);
                if (precedence.SameNight && !over) sameNight.Add(earlier);
            }
        }
        arcs.AddRange(ZoneClosingPrecedences(planned, index));
        int[] followers = [.. Enumerable.Range(index + 1, linked.Length - index - 1)
            .Where(later => linked[later].SameNightAs.Contains(index))];
        return activity with
        {
            Predecessors = arcs,
            SameNightAs = [.. sameNight],
            Tail = followers.Select(later => linked[later])
                .Select(later => later.Predecessors.First(arc => arc.Predecessor == index).Lag
                    + later.MostLikelyMinutes + later.Tail)
                .DefaultIfEmpty().Max(),
            // It cannot be put off to a night in which its followers cannot be staffed.
            EligibleCrewByNight = [.. activity.EligibleCrewByNight.Select((crew, night) =>
                followers.All(later => linked[later].EligibleCrewByNight[night] is not null) ? crew : null)],
        };
    }

    /// <summary>
    /// Precedences from zones that tasks close. An activity waits for the tasks that close its zone and are planned to end before
    /// it starts. A task that closes the zone waits for all work planned to end before it starts.
    /// </summary>
    private IEnumerable<SimulatedPrecedence> ZoneClosingPrecedences(IReadOnlyList<SimulatedActivity> planned, int index)
    {
        var activity = planned[index];
        if (activity.Kind == SimulatedActivityKind.Begun) yield break;
        for (var earlier = 0; earlier < index; earlier++)
        {
            var other = planned[earlier];
            if (other.Zone != activity.Zone || other.Task == activity.Task || other.Zone < 0) continue;
            if (ClosesZone(other)
                && (activity.PlannedFrom >= other.PlannedTo || activity.Kind == SimulatedActivityKind.AddedCleanDown))
                yield return new SimulatedPrecedence(earlier, Problem.Tasks[other.Task].ClosesZoneMinutes);
            else if (ClosesZone(activity) && other.PlannedTo <= activity.PlannedFrom && !other.IsCleanDown)
                yield return new SimulatedPrecedence(earlier, 0);
        }
    }

    private bool ClosesZone(SimulatedActivity activity) =>
        activity.Task >= 0 && Problem.Tasks[activity.Task] is { ClosesZoneMinutes: > 0 } task && activity.Stint == task.LastStint;
}
