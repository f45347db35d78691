using SetWeek.Model.Problems;
using SetWeek.Model.Time;
using SetWeek.Planning.Risk.Distributions;

namespace SetWeek.Planning.Risk.Simulation;

/// <summary>The pieces of a plan in the order in which they are worked, before they are linked to one another.</summary>
internal sealed class SimulatedActivityBuilder(Problem problem, Schedule schedule, RenewableResources resources, DurationModel durations)
{
    private readonly int now = problem.Facts?.Now ?? -Problem.Never;
    private readonly bool[,] onShift = OnShift(problem, schedule);

    public IReadOnlyList<SimulatedActivity> InOrder()
    {
        SimulatedActivity[] pieces =
        [
            .. schedule.Work.Select(ActivityOf), .. AddedCleanDowns(),
            .. schedule.Shifts.Where(shift => shift.Break is not null).Select(Break),
        ];
        return [.. pieces
            .OrderBy(activity => activity.Kind != SimulatedActivityKind.Begun).ThenBy(activity => activity.Kind == SimulatedActivityKind.Begun ? 0 : activity.Night)
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

    /// <summary>And the time before it in which the task leaves its zone closed.</summary>
    private int CleanDownTailOf(Stint stint) =>
        stint.Task.IsLastTask || problem.Week.Store.Zones[stint.Task.Zone].CleanDown is not { } down ? 0
        : down.Minutes + (stint.IsLast ? stint.Task.ClosesZoneMinutes : 0);

    private static IReadOnlyList<Span> BansFor(IndexedTask task, NightWindow night) =>
        [.. night.Bans.Where(ban => task.Traits.Contains(ban.Trait)).Select(ban => ban.Span).OrderBy(span => span.From)];

    private SimulatedActivity CleanDown(ScheduledWork work)
    {
        // What nobody reported of a night that is over was done as planned.
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
            EligibleCrewByNight = [.. problem.Nights.Select(at => at.Index == night.Index ? new EligibleCrew(
                [.. Positions(zone.CleanDown!).Select(post => EligiblePeople(post, night.Index))]) : null)],
        };

    /// <summary>Planned people where they are there; in the place of others whoever is, has the skill and may do it.</summary>
    private EligibleCrew? EligibleCrewFor(ScheduledWork work, ActivityMode mode, IndexedTask task, int night)
    {
        // Lowest to lowest and up: levels are nested.
        var posts = Positions(mode).OrderBy(post => post.Skill).ThenBy(post => post.Level);
        var assignments = work.Assignments.OrderBy(assignment => assignment.Skill).ThenBy(LevelOf).ToArray();
        var stay = assignments.Where(assignment => onShift[assignment.Person, night]).Select(assignment => assignment.Person).ToHashSet();
        var places = posts.Zip(assignments, (post, assignment) => stay.Contains(assignment.Person) ? (IReadOnlyList<int>)[assignment.Person]
            : [.. EligiblePeople(post, night)
                .Where(person => !stay.Contains(person) && !problem.Crew[person].BarredTraits.Any(task.Traits.Contains))]).ToArray();
        return Array.Exists(places, place => place.Count == 0) ? null : new EligibleCrew([.. places.OrderBy(place => place.Count)]);
    }

    private static IEnumerable<RequiredSkill> Positions(ActivityMode mode) => mode.RequiredSkills.SelectMany(post => Enumerable.Repeat(post, post.People));

    private IReadOnlyList<int> EligiblePeople(RequiredSkill requirement, int night) =>
        [.. problem.Crew.Where(person => onShift[person.Index, night] && person.Meets(requirement)).Select(person => person.Index)];

    private int LevelOf(Assignment assignment) => assignment.Skill < 0 ? 0 : problem.Crew[assignment.Person].Levels[assignment.Skill];

    private static bool[,] OnShift(Problem problem, Schedule schedule)
    {
        var there = new bool[problem.Crew.Count, problem.Nights.Count];
        foreach (var shift in schedule.Shifts) there[shift.Person, shift.Night] = true;
        return there;
    }
}
