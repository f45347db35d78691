using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;

namespace SetWeek.Planning.Compact;

/// <summary>Builds the activities of a compact problem: precedences, same-night groups, modes and possible starts.</summary>
internal sealed class CompactActivityBuilder
{
    private readonly CompactProblem compact;
    private readonly Problem problem;
    private readonly CompactActivity[] activities;

    public CompactActivityBuilder(CompactProblem compact)
    {
        this.compact = compact;
        problem = compact.Problem;
        activities = new CompactActivity[compact.Stints + compact.Zones * compact.Nights];
        foreach (var stint in problem.Stints) activities[stint.Index] = OfStint(stint);
        for (var zone = 0; zone < compact.Zones; zone++)
            for (var night = 0; night < compact.Nights; night++)
                activities[compact.CleanDownIndex(zone, night)] = OfCleanDown(zone, night);
        AddPrecedences();
        RankTopologically();
        GroupBySameNight();
        foreach (var activity in activities.OrderByDescending(activity => activity.TopologicalRank)) PropagateLatestEnd(activity);
        // Clean-downs come first: a stint can only lie in a night in which its zone can have its clean-down.
        foreach (var activity in activities.Skip(compact.Stints).Concat(activities.Take(compact.Stints)))
            if (!activity.HasBegun) activity.Modes = [.. ModesOf(activity)];
        foreach (var activity in activities.Take(compact.Stints).OrderByDescending(activity => activity.TopologicalRank))
            SetSameNightTail(activity);
    }

    public CompactActivity[] Activities => activities;

    private CompactActivity OfStint(Stint stint) => new()
    {
        Index = stint.Index,
        Task = stint.Task.Index,
        Display = stint.Task.Display,
        Zone = stint.Task.Zone,
        IsFinal = stint.Task.IsLastTask,
        Company = stint.Task.Company?.People ?? 0,
        ZoneClosedMinutes = stint.IsLast ? stint.Task.ClosesZoneMinutes : 0,
        HasBegun = problem.Facts?.BegunWork[stint.Index] is not null,
        NeedsCleanDown = !stint.Task.IsLastTask && problem.Zones[stint.Task.Zone].CleanDown is not null,
        EarliestStart = Math.Max(
            Math.Max(stint.Task.Release, compact.Now), problem.Facts?.EarliestStarts[stint.Index] ?? -Problem.Never),
        LatestEnd = Math.Min(problem.BindingDue(stint.Task), problem.BindingLaunch(stint.Task)),
    };

    private CompactActivity OfCleanDown(int zone, int night) => new()
    {
        Index = compact.CleanDownIndex(zone, night),
        Task = -1,
        Display = -1,
        Zone = zone,
        CleanDownNight = night,
        HasBegun = BegunCleanDown(zone, night),
        EarliestStart = compact.Now,
        LatestEnd = problem.BindingLaunch(null),
    };

    private bool BegunCleanDown(int zone, int night) =>
        problem.Facts?.BegunCleanDowns.Any(work => work.Zone == zone && work.Night == night) == true;

    private void AddPrecedences()
    {
        var (predecessors, successors) = (Lists(), Lists());
        void Add(int predecessor, int successor, int lag)
        {
            predecessors[successor].Add(new(predecessor, lag));
            successors[predecessor].Add(new(successor, lag));
        }
        foreach (var task in problem.Tasks)
        {
            for (var stint = task.FirstStint + 1; stint < task.FirstStint + task.StintCount; stint++)
                Add(stint - 1, stint, 0);
            foreach (var precedence in task.Precedences)
                Add(LastStint(precedence.Predecessor), task.FirstStint, precedence.LagMinutes);
        }
        foreach (var activity in activities)
            (activity.Predecessors, activity.Successors) = ([.. predecessors[activity.Index]], [.. successors[activity.Index]]);

        List<CompactPrecedence>[] Lists() => [.. activities.Select(_ => new List<CompactPrecedence>())];
    }

    private int LastStint(int task) => problem.Tasks[task].FirstStint + problem.Tasks[task].StintCount - 1;

    private void RankTopologically()
    {
        var waiting = activities.Select(activity => activity.Predecessors.Length).ToArray();
        var ready = new Queue<CompactActivity>(activities.Where(activity => activity.Predecessors.Length == 0));
        var rank = 0;
        while (ready.TryDequeue(out var activity))
        {
            activity.TopologicalRank = rank++;
            foreach (var successor in activity.Successors)
                if (--waiting[successor.Activity] == 0) ready.Enqueue(activities[successor.Activity]);
        }
    }

    /// <summary>Joins the stints that must lie in one night by union-find.</summary>
    private void GroupBySameNight()
    {
        var leader = Enumerable.Range(0, compact.Stints).ToArray();
        int Find(int activity) => leader[activity] == activity ? activity : leader[activity] = Find(leader[activity]);
        foreach (var task in problem.Tasks)
            foreach (var precedence in task.Precedences.Where(IsSameNight))
                for (var number = 0; number < task.StintCount; number++)
                    leader[Find(task.FirstStint + number)] = Find(LastStint(precedence.Predecessor));
        foreach (var group in activities.Take(compact.Stints).GroupBy(activity => Find(activity.Index)))
        {
            int[] notBegun = [.. group.Where(activity => !activity.HasBegun)
                .OrderBy(activity => activity.TopologicalRank).Select(activity => activity.Index)];
            var begunNights = group.Where(activity => activity.HasBegun)
                .Select(activity => problem.Facts!.BegunWork[activity.Index]!.Night);
            var night = begunNights.DefaultIfEmpty(-1).Last();
            foreach (var activity in group) (activity.SameNightGroup, activity.GroupNight) = (notBegun, night);
        }

        bool IsSameNight(Precedence precedence) => precedence.SameNight && !SameNightLapsed(LastStint(precedence.Predecessor));
    }

    /// <summary>Does the same-night rule no longer apply, because the night of the begun predecessor is over?</summary>
    private bool SameNightLapsed(int stint) =>
        problem.Facts?.BegunWork[stint] is { } begun && problem.Nights[begun.Night].Closes <= compact.Now;

    /// <summary>
    /// Tightens the latest end by the latest starts of the successors that are certain to be planned, those that may be left out
    /// excepted.
    /// </summary>
    private void PropagateLatestEnd(CompactActivity activity)
    {
        foreach (var precedence in activity.Successors)
        {
            var successor = activities[precedence.Activity];
            if (!successor.HasBegun && (successor.Display == activity.Display || IsCertain(successor.Display)))
                activity.LatestEnd = Math.Min(activity.LatestEnd, LatestStart(successor) - precedence.Lag);
        }
        if (!activity.IsFinal && compact.Problem.LastTask is { } final && IsCertain(final.Display)
            && !activities[final.FirstStint].HasBegun)
            activity.LatestEnd = Math.Min(activity.LatestEnd, LatestStart(activities[final.FirstStint]));
    }

    /// <summary>Longest path through the successors in the same night, by shortest modes.</summary>
    private void SetSameNightTail(CompactActivity activity)
    {
        foreach (var precedence in activity.Successors)
            if (activities[precedence.Activity] is { Modes.Length: > 0 } successor
                && activity.SameNightGroup.Contains(precedence.Activity))
            {
                var lag = (precedence.Lag + compact.SlotMinutes - 1) / compact.SlotMinutes;
                var shortest = successor.Modes.Min(mode => mode.DurationSlots);
                activity.SameNightTail = Math.Max(activity.SameNightTail, lag + shortest + successor.SameNightTail);
            }
    }

    /// <summary>Is the display certain to be built?</summary>
    private bool IsCertain(int display) => problem.Facts?.StaysPlaced[display] == true
        || problem.Displays[display] is { Must: true, Alternate: null, AlternateOf: null };

    /// <summary>Latest minute at which the activity can start, in its shortest mode, to end in time in some night.</summary>
    private int LatestStart(CompactActivity activity)
    {
        var shortest = Enumerable.Range(0, problem.Tasks[activity.Task].Modes.Count)
            .Min(mode => problem.MinutesOf(problem.Stints[activity.Index], mode));
        for (var night = compact.Nights - 1; night >= 0; night--)
        {
            var end = Math.Min(compact.LatestWorkEnd[night], compact.SlotAtOrBefore(night, activity.LatestEnd));
            if (end - shortest / compact.SlotMinutes >= compact.EarliestWorkSlot[night])
                return compact.MinuteAt(night, end) - shortest;
        }
        return -Problem.Never;
    }

    private IEnumerable<CompactMode> ModesOf(CompactActivity activity)
    {
        if (activity.CleanDownNight >= 0)
        {
            if (problem.Zones[activity.Zone].CleanDown is { } cleanDown
                && ModeOf(activity, 0, cleanDown, cleanDown.Minutes) is { } onlyMode)
                yield return onlyMode;
            yield break;
        }
        var stint = problem.Stints[activity.Index];
        var fixedMode = problem.Facts?.FixedModes[activity.Index];
        for (var index = 0; index < stint.Task.Modes.Count; index++)
            if ((fixedMode is null || fixedMode == index)
                && ModeOf(activity, index, stint.Task.Modes[index], problem.MinutesOf(stint, index)) is { } mode)
                yield return mode;
    }

    /// <summary>The mode in compact form; null if it can never be placed.</summary>
    private CompactMode? ModeOf(CompactActivity activity, int modeIndex, ActivityMode activityMode, int minutes)
    {
        if (activityMode.People > problem.Zones[activity.Zone].MaxPeople
            || activityMode.Equipment.Any(piece => piece.Count > problem.EquipmentCapacities[piece.Equipment]))
            return null;
        // All other work has ended when the last task starts, so it has no company but its own people.
        var companyNeeded = Math.Max(0, activity.Company - activityMode.People);
        if (companyNeeded > 0 && (activity.IsFinal || activity.Company > problem.Zones[activity.Zone].MaxPeople)) return null;
        var requirements = activityMode.RequiredSkills
            .SelectMany(skill =>
                Enumerable.Repeat(new CompactRequirement(EligibleFor(activity, skill), skill.Skill), skill.People))
            .OrderBy(requirement => ulong.PopCount(requirement.Eligible)).ThenBy(requirement => requirement.Skill).ToArray();
        if (activity.Task >= 0 && !TryPinPeople(activity.Index, requirements)
            || requirements.Any(requirement => requirement.Eligible == 0)) return null;
        var starts = new ulong[compact.Nights * compact.WordsPerNight];
        var slots = minutes / compact.SlotMinutes;
        for (var night = 0; night < compact.Nights; night++)
            FillStarts(activity, requirements.Length > 0, slots, night,
                starts.AsSpan(night * compact.WordsPerNight, compact.WordsPerNight));
        return starts.All(word => word == 0) ? null
            : new CompactMode(modeIndex, slots, minutes, requirements, activityMode.Equipment, companyNeeded, starts);
    }

    private ulong EligibleFor(CompactActivity activity, RequiredSkill skill)
    {
        var traits = activity.Task < 0 ? null : problem.Tasks[activity.Task].Traits;
        var eligible = 0UL;
        foreach (var person in problem.Crew)
            if (person.Meets(skill) && (traits is null || !person.BarredTraits.Any(traits.Contains)))
                eligible |= 1UL << person.Index;
        return eligible;
    }

    /// <summary>
    /// Reserves one requirement for each pinned person, the first free one that they can fill. False if there is none.
    /// </summary>
    private bool TryPinPeople(int stint, CompactRequirement[] requirements)
    {
        var reserved = 0UL;
        foreach (var person in problem.Pins.Stints.Where(pin => pin.Stint == stint).SelectMany(pin => pin.People).Distinct())
        {
            var at = Array.FindIndex(requirements, requirement =>
                (requirement.Eligible & 1UL << person) != 0 && (requirement.Eligible & ~reserved) == requirement.Eligible);
            if (at < 0) return false;
            for (var other = 0; other < requirements.Length; other++)
                requirements[other] = requirements[other] with
                {
                    Eligible = other == at ? 1UL << person : requirements[other].Eligible & ~(1UL << person),
                };
            reserved |= 1UL << person;
        }
        return true;
    }

    /// <summary>Adds the slots of a night at which the mode could start in an empty schedule.</summary>
    private void FillStarts(CompactActivity activity, bool isStaffed, int slots, int night, Span<ulong> starts)
    {
        var onlyNight = activity.CleanDownNight >= 0 ? activity.CleanDownNight : activity.GroupNight;
        if (onlyNight >= 0 && onlyNight != night) return;
        if (activity.NeedsCleanDown && activities[compact.CleanDownIndex(activity.Zone, night)] is { Modes: [] } cleanDown)
            if (cleanDown.HasBegun || problem.Nights[night].Closes > compact.Now) return;
        var from = Math.Max(compact.SlotAtOrAfter(night, activity.EarliestStart),
            isStaffed ? compact.EarliestWorkSlot[night] : 0);
        var to = Math.Min(compact.SlotAtOrBefore(night, activity.LatestEnd),
            isStaffed ? compact.LatestWorkEnd[night] : compact.SlotCounts[night]);
        if (activity.NeedsCleanDown)
        {
            var cleanDownSlots = problem.Zones[activity.Zone].CleanDown!.Minutes / compact.SlotMinutes;
            to = Math.Min(to, compact.LatestWorkEnd[night] - cleanDownSlots);
        }
        if (to - slots < from) return;
        SlotSet.Add(starts, from, to - slots + 1);
        foreach (var pin in problem.Pins.Stints.Where(pin => activity.Task >= 0 && pin.Stint == activity.Index))
        {
            if (pin.Night is { } only && only != night && problem.Nights[only].Closes > compact.Now) starts.Clear();
            if (pin.From is not { } minute || minute < compact.Now) continue;
            var (first, last) = (compact.SlotAtOrAfter(night, minute), compact.SlotAtOrBefore(night, minute));
            SlotSet.KeepBetween(starts, Math.Max(0, first), Math.Max(0, last + 1));
        }
        if (activity.Task < 0) return;
        foreach (var ban in problem.Nights[night].Bans)
            if (problem.Tasks[activity.Task].Traits.Contains(ban.Trait))
            {
                var begin = (int)Math.Floor((ban.Span.From - compact.Opens[night]) / (double)compact.SlotMinutes);
                SlotSet.Remove(starts, Math.Max(0, begin - slots + 1),
                    Math.Clamp(compact.SlotAtOrAfter(night, ban.Span.To), 0, compact.PaddedSlotCount));
            }
    }
}
