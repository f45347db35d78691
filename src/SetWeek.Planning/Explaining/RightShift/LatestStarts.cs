using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;

namespace SetWeek.Planning.Explaining.RightShift;

/// <summary>
/// For each stint and clean-down of a night: the latest start with which the night still holds. All other work of the night may
/// move later, in the planned order and with the planned people; shifts and other nights stay. A backward pass over the partial
/// order of the night gives the bound, and the check of the whole plan confirms it.
/// docs/decisions/latest-start.md says where it is only safe.
/// </summary>
public static class LatestStarts
{
    /// <summary>The latest start of each piece of work of a night.</summary>
    /// <param name="problem">The problem that the schedule solves.</param>
    /// <param name="schedule">A published plan. Rule instances that it already breaks are no reason against a start.</param>
    /// <param name="night">Index of the night.</param>
    /// <returns>One for each piece of the night, by start. Begun work and a pinned start stay as they are.</returns>
    public static IReadOnlyList<LatestStart> Of(Problem problem, Schedule schedule, int night)
    {
        var network = new NightNetwork(problem, schedule, night);
        var known = InstancesBroken(problem, schedule);
        return [.. network.Work.Select(work => new LatestStart(work, Confirmed(problem, network, known, work)))];
    }

    /// <summary>
    /// The schedule in which one piece of work of the night starts at the given minute, and all that waits for it moves as little
    /// as the order asks for.
    /// </summary>
    /// <param name="problem">The problem that the schedule solves.</param>
    /// <param name="schedule">A published plan.</param>
    /// <param name="work">A piece of its work.</param>
    /// <param name="start">A minute at or after its start, on the grid.</param>
    public static Schedule Shifted(Problem problem, Schedule schedule, ScheduledWork work, int start) =>
        new NightNetwork(problem, schedule, work.Night).Shifted(work, start);

    /// <summary>
    /// The bound of the backward pass if the check confirms it. Otherwise, as where company ends, the last start up to which
    /// every start holds.
    /// </summary>
    private static int Confirmed(
        Problem problem, NightNetwork network, HashSet<(RuleId, RuleSubject)> known, ScheduledWork work)
    {
        bool Holds(int start) =>
            Checker.Check(problem, network.Shifted(work, start)).All(breach => known.Contains((breach.Rule, breach.About)));
        var bound = network.LatestStart(work);
        if (bound == work.From || Holds(bound)) return bound;
        var latest = work.From;
        while (latest + problem.Grid.SlotMinutes < bound && Holds(latest + problem.Grid.SlotMinutes))
            latest += problem.Grid.SlotMinutes;
        return latest;
    }

    private static HashSet<(RuleId, RuleSubject)> InstancesBroken(Problem problem, Schedule schedule) =>
        [.. Checker.Check(problem, schedule).Select(breach => (breach.Rule, breach.About))];
}

/// <summary>The latest start of a piece of work.</summary>
/// <param name="Work">The work as planned.</param>
/// <param name="Minute">The latest start in minutes since the first night opens; not before the planned one.</param>
public sealed record LatestStart(ScheduledWork Work, int Minute);
