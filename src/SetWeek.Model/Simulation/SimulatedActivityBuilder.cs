using SetWeek.Model.Durations;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Model.Simulation;

/// <summary>Builds the activities of a plan, without their predecessors, in the order in which a run takes them.</summary>
internal sealed class SimulatedActivityBuilder(
    Problem problem, Schedule schedule, RenewableResources resources, DurationModel durations)
{
    private readonly int now = problem.Facts?.Now ?? -Problem.Never;
    private readonly bool[,] onShift = OnShift(problem, schedule);

    public IReadOnlyList<SimulatedActivity> InOrder()
    {
        SimulatedActivity[] activities =
        [
            .. schedule.Work.Select(ActivityOf), .. AddedCleanDowns(),
            .. schedule.Shifts.Where(shift => shift.Break is not null).Select(Break),
        ];
        return [.. activities
            .OrderBy(activity => activity.Kind != SimulatedActivityKind.Begun)
            .ThenBy(activity => activity.Kind == SimulatedActivityKind.Begun ? 0 : activity.Night)
            .ThenBy(activity => activity.Last).ThenBy(activity => activity.PlannedFrom).ThenBy(activity => activity.PlannedTo)
            .ThenBy(activity => activity.Stint).ThenBy(activity => activity.Zone)];
    }

    private SimulatedActivity ActivityOf(ScheduledWork work)
    {
        if (work.Stint is not { } index) return CleanDown(work);
        var stint = problem.Stints[index];
        if (problem.Facts?.BegunWork[index] is { } begun)
            return Begun(begun, durations.OfBegun(stint, begun)) with
            {
                Task = stint.Task.Index, Stint = index, Last = stint.Task.IsLastTask,
            };
        var mode = stint.Task.Modes[work.Mode];
        return new SimulatedActivity
        {
            Kind = SimulatedActivityKind.Stint,
            Night = work.Night,
            Task = stint.Task.Index,
            Stint = index,
            Zone = work.Zone,
            PlannedFrom = work.From,
            PlannedTo = work.To,
            People = [.. work.Assignments.Select(assignment => assignment.Person)],
            Duration = durations.OfStint(stint, work.Mode),
            ReleaseTime = Math.Max(Math.Max(stint.Task.Release, now), problem.Facts?.EarliestStarts[index] ?? -Problem.Never),
            Demands = resources.DemandsOf(mode, work.Zone),
            Bans = [.. problem.Nights.Select(night => BansFor(stint.Task, night))],
            CleanDownTail = CleanDownTailOf(stint),
            Last = stint.Task.IsLastTask,
            EligibleCrewByNight = [.. problem.Nights.Select(night => EligibleCrewFor(work, mode, stint.Task, night.Index))],
        };
    }

    /// <summary>The clean-down's minutes, plus those for which the task leaves its zone closed before it.</summary>
    private int CleanDownTailOf(Stint stint) =>
        stint.Task.IsLastTask || problem.Week.Store.Zones[stint.Task.Zone].CleanDown is not { } down ? 0
        : down.Minutes + (stint.IsLast ? stint.Task.ClosesZoneMinutes : 0);

    private static IReadOnlyList<Span> BansFor(IndexedTask task, NightWindow night) =>
        [.. night.Bans.Where(ban => task.Traits.Contains(ban.Trait)).Select(ban => ban.Span).OrderBy(span => span.From)];

    private SimulatedActivity CleanDown(ScheduledWork work)
    {
        // A clean-down of a night that is over, without a report, counts as done as planned.
        if (problem.Nights[work.Night].Closes <= now || problem.Facts?.BegunCleanDowns.Contains(work) == true)
            return Begun(work, SimulatedDuration.Certain(work.Span.Minutes));
        return new SimulatedActivity
        {
            Kind = SimulatedActivityKind.CleanDown,
            Night = work.Night,
            Zone = work.Zone,
            PlannedFrom = work.From,
            PlannedTo = work.To,
            People = [.. work.Assignments.Select(assignment => assignment.Person)],
            Duration = DurationModel.OfCleanDown(problem.Week.Store.Zones[work.Zone]),
            ReleaseTime = now,
            Demands = resources.DemandsOf(problem.Zones[work.Zone].CleanDown!, work.Zone),
        };
    }

    private static SimulatedActivity Begun(ScheduledWork work, SimulatedDuration duration) => new()
    {
        Kind = SimulatedActivityKind.Begun,
        Night = work.Night,
        Zone = work.Zone,
        PlannedFrom = work.From,
        PlannedTo = work.To,
        People = [.. work.Assignments.Select(assignment => assignment.Person)],
        Duration = duration,
        ReleaseTime = work.From,
    };

    private SimulatedActivity Break(ScheduledShift shift) => new()
    {
        Kind = SimulatedActivityKind.Break,
        Night = shift.Night,
        PlannedFrom = shift.Break!.Value.From,
        PlannedTo = shift.Break.Value.To,
        People = [shift.Person],
        Duration = SimulatedDuration.Certain(shift.Break.Value.Minutes),
        ReleaseTime = shift.Break.Value.From,
    };

    private IEnumerable<SimulatedActivity> AddedCleanDowns() =>
        from night in problem.Nights
        where night.Closes > now
        from zone in problem.Zones
        where zone.CleanDown is not null
            && !schedule.Work.Any(work => work.IsCleanDown && work.Night == night.Index && work.Zone == zone.Index)
        select new SimulatedActivity
        {
            Kind = SimulatedActivityKind.AddedCleanDown,
            Night = night.Index,
            Zone = zone.Index,
            PlannedFrom = night.Closes,
            PlannedTo = night.Closes,
            Duration = DurationModel.OfCleanDown(problem.Week.Store.Zones[zone.Index]),
            ReleaseTime = now,
            EligibleCrewByNight = [.. problem.Nights.Select(other => other.Index == night.Index ? new EligibleCrew(
                [.. Positions(zone.CleanDown!).Select(position => EligiblePeople(position, night.Index))]) : null)],
        };

    /// <summary>
    /// Planned people who are on shift keep their positions. The positions of the others go to people who are on shift, have the
    /// skill and may do the work. Null if a position has nobody.
    /// </summary>
    private EligibleCrew? EligibleCrewFor(ScheduledWork work, ActivityMode mode, IndexedTask task, int night)
    {
        // Positions and people are matched in ascending order of level, because a higher level includes the lower ones.
        var positions = Positions(mode).OrderBy(position => position.Skill).ThenBy(position => position.Level);
        var assignments = work.Assignments.OrderBy(assignment => assignment.Skill).ThenBy(LevelOf).ToArray();
        var present = assignments.Where(assignment => onShift[assignment.Person, night])
            .Select(assignment => assignment.Person).ToHashSet();
        var eligible = positions.Zip(assignments, (position, assignment) => present.Contains(assignment.Person)
            ? (IReadOnlyList<int>)[assignment.Person]
            : [.. EligiblePeople(position, night).Where(person =>
                !present.Contains(person) && !problem.Crew[person].BarredTraits.Any(task.Traits.Contains))]).ToArray();
        return Array.Exists(eligible, people => people.Count == 0) ? null
            : new EligibleCrew([.. eligible.OrderBy(people => people.Count)]);
    }

    /// <summary>The required skills of a mode, one for each person.</summary>
    private static IEnumerable<RequiredSkill> Positions(ActivityMode mode) =>
        mode.RequiredSkills.SelectMany(requirement => Enumerable.Repeat(requirement, requirement.People));

    private IReadOnlyList<int> EligiblePeople(RequiredSkill requirement, int night) =>
        [.. problem.Crew.Where(person => onShift[person.Index, night] && person.Meets(requirement))
            .Select(person => person.Index)];

    private int LevelOf(Assignment assignment) =>
        assignment.Skill < 0 ? 0 : problem.Crew[assignment.Person].Levels[assignment.Skill];

    private static bool[,] OnShift(Problem problem, Schedule schedule)
    {
        var onShift = new bool[problem.Crew.Count, problem.Nights.Count];
        foreach (var shift in schedule.Shifts) onShift[shift.Person, shift.Night] = true;
        return onShift;
    }
}
