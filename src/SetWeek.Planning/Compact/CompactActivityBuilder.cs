using SetWeek.Model.Problems;

namespace SetWeek.Planning.Compact;

/// <summary>Makes the jobs of an image: their ties, their groups of one night, and where each may start.</summary>
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
        // Clean-downs first: a stint may lie only in a night in which its zone can be cleaned after it.
        foreach (var activity in activities.Skip(compact.Stints).Concat(activities.Take(compact.Stints)))
            if (!activity.HasBegun) activity.Modes = [.. ModesOf(activity)];
        foreach (var activity in activities.Take(compact.Stints).OrderByDescending(activity => activity.TopologicalRank)) SetSameNightTail(activity);
    }

    public CompactActivity[] Activities => activities;

    private CompactActivity OfStint(Stint stint) => new()
    {
        Index = stint.Index,
        Task = stint.Task.Index,
        Display = stint.Task.Display,
        Zone = stint.Task.Zone,
        IsFinal = stint.Task.IsLastTask,
        ZoneClosedMinutes = stint.IsLast ? stint.Task.ClosesZoneMinutes : 0,
        HasBegun = problem.Facts?.BegunWork[stint.Index] is not null,
        NeedsCleanDown = !stint.Task.IsLastTask && problem.Zones[stint.Task.Zone].CleanDown is not null,
        EarliestStart = Math.Max(Math.Max(stint.Task.Release, compact.Now), problem.Facts?.EarliestStarts[stint.Index] ?? -Problem.Never),
        LatestEnd = Math.Min(UnlessPast(stint.Task.Due), UnlessPast(problem.Launch)),
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
        LatestEnd = UnlessPast(problem.Launch),
    };

    /// <summary>A moment that has passed binds nothing any more: what is late is planned on.</summary>
    private int UnlessPast(int minute) => minute > compact.Now ? minute : Problem.Never;

    private bool BegunCleanDown(int zone, int night) =>
        problem.Facts?.BegunCleanDowns.Any(work => work.Zone == zone && work.Night == night) == true;

    private void AddPrecedences()
    {
        var (before, after) = (Lists(), Lists());
        void Tie(int first, int then, int lag)
        {
            before[then].Add(new(first, lag));
            after[first].Add(new(then, lag));
        }
        foreach (var task in problem.Tasks)
        {
            for (var stint = task.FirstStint + 1; stint < task.FirstStint + task.StintCount; stint++) Tie(stint - 1, stint, 0);
            foreach (var precedence in task.Precedences) Tie(LastStint(precedence.Predecessor), task.FirstStint, precedence.LagMinutes);
        }
        foreach (var activity in activities) (activity.Predecessors, activity.Successors) = ([.. before[activity.Index]], [.. after[activity.Index]]);

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
            foreach (var precedence in activity.Successors)
                if (--waiting[precedence.Activity] == 0) ready.Enqueue(activities[precedence.Activity]);
        }
    }

    private void GroupBySameNight()
    {
        var leader = Enumerable.Range(0, compact.Stints).ToArray();
        int Find(int activity) => leader[activity] == activity ? activity : leader[activity] = Find(leader[activity]);
        foreach (var task in problem.Tasks)
            foreach (var precedence in task.Precedences.Where(precedence => precedence.SameNight && !SameNightLapsed(LastStint(precedence.Predecessor))))
                for (var number = 0; number < task.StintCount; number++)
                    leader[Find(task.FirstStint + number)] = Find(LastStint(precedence.Predecessor));
        foreach (var group in activities.Take(compact.Stints).GroupBy(activity => Find(activity.Index)))
        {
            int[] free = [.. group.Where(activity => !activity.HasBegun).OrderBy(activity => activity.TopologicalRank).Select(activity => activity.Index)];
            var begun = group.Where(activity => activity.HasBegun).Select(activity => problem.Facts!.BegunWork[activity.Index]!.Night);
            var night = begun.DefaultIfEmpty(-1).Last();
            foreach (var activity in group) (activity.SameNightGroup, activity.GroupNight) = (free, night);
        }
    }

    /// <summary>Same-night lapses once the night of the work before it is over.</summary>
    private bool SameNightLapsed(int stint) => problem.Facts?.BegunWork[stint] is { } begun && problem.Nights[begun.Night].Closes <= compact.Now;

    /// <summary>What surely follows a job has to be in time as well. What may be left out is not counted.</summary>
    private void PropagateLatestEnd(CompactActivity activity)
    {
        foreach (var precedence in activity.Successors)
        {
            var then = activities[precedence.Activity];
            if (!then.HasBegun && (then.Display == activity.Display || IsCertain(then.Display)))
                activity.LatestEnd = Math.Min(activity.LatestEnd, LatestStart(then) - precedence.Lag);
        }
        if (!activity.IsFinal && compact.Problem.LastTask is { } final && IsCertain(final.Display) && !activities[final.FirstStint].HasBegun)
            activity.LatestEnd = Math.Min(activity.LatestEnd, LatestStart(activities[final.FirstStint]));
    }

    /// <summary>The longest way through what follows in the same night.</summary>
    private void SetSameNightTail(CompactActivity activity)
    {
        foreach (var precedence in activity.Successors)
            if (activities[precedence.Activity] is { Modes.Length: > 0 } then && activity.SameNightGroup.Contains(precedence.Activity))
                activity.SameNightTail = Math.Max(activity.SameNightTail,
                    (precedence.Lag + compact.SlotMinutes - 1) / compact.SlotMinutes + then.Modes.Min(mode => mode.DurationSlots) + then.SameNightTail);
    }

    private bool IsCertain(int display) => problem.Facts?.StaysPlaced[display] == true
        || problem.Displays[display] is { Must: true, Alternate: null, AlternateOf: null };

    private int LatestStart(CompactActivity activity)
    {
        var shortest = Enumerable.Range(0, problem.Tasks[activity.Task].Modes.Count)
            .Min(mode => problem.MinutesOf(problem.Stints[activity.Index], mode));
        for (var night = compact.Nights - 1; night >= 0; night--)
        {
            var end = Math.Min(compact.LatestWorkEnd[night], compact.SlotAtOrBefore(night, activity.LatestEnd));
            if (end - shortest / compact.SlotMinutes >= compact.EarliestWorkSlot[night]) return compact.MinuteAt(night, end) - shortest;
        }
        return -Problem.Never;
    }

    private IEnumerable<CompactMode> ModesOf(CompactActivity activity)
    {
        if (activity.CleanDownNight >= 0)
        {
            if (problem.Zones[activity.Zone].CleanDown is { } down
                && ModeOf(activity, 0, down, down.Minutes) is { } manner)
                yield return manner;
            yield break;
        }
        var stint = problem.Stints[activity.Index];
        var kept = problem.Facts?.FixedModes[activity.Index];
        for (var mode = 0; mode < stint.Task.Modes.Count; mode++)
            if (kept is null || kept == mode)
                if (ModeOf(activity, mode, stint.Task.Modes[mode], problem.MinutesOf(stint, mode)) is { } manner) yield return manner;
    }

    private CompactMode? ModeOf(CompactActivity activity, int modeIndex, ActivityMode activityMode, int minutes)
    {
        if (activityMode.People > problem.Zones[activity.Zone].MaxPeople
            || activityMode.Equipment.Any(piece => piece.Count > problem.EquipmentCapacities[piece.Equipment]))
            return null;
        var seats = activityMode.RequiredSkills
            .SelectMany(post => Enumerable.Repeat(new CompactRequirement(EligibleFor(activity, post), post.Skill), post.People))
            .OrderBy(requirement => ulong.PopCount(requirement.Eligible)).ThenBy(requirement => requirement.Skill).ToArray();
        if (seats.Any(requirement => requirement.Eligible == 0)) return null;
        var starts = new ulong[compact.Nights * compact.WordsPerNight];
        var slots = minutes / compact.SlotMinutes;
        for (var night = 0; night < compact.Nights; night++)
            FillStarts(activity, seats.Length > 0, slots, night, starts.AsSpan(night * compact.WordsPerNight, compact.WordsPerNight));
        return starts.All(word => word == 0) ? null : new CompactMode(modeIndex, slots, minutes, seats, activityMode.Equipment, starts);
    }

    private ulong EligibleFor(CompactActivity activity, RequiredSkill post)
    {
        var traits = activity.Task < 0 ? null : problem.Tasks[activity.Task].Traits;
        var eligible = 0UL;
        foreach (var person in problem.Crew)
            if (person.Meets(post) && (traits is null || !person.BarredTraits.Any(traits.Contains))) eligible |= 1UL << person.Index;
        return eligible;
    }

    private void FillStarts(CompactActivity activity, bool manned, int slots, int night, Span<ulong> starts)
    {
        if (activity.CleanDownNight >= 0 ? activity.CleanDownNight != night : activity.GroupNight >= 0 && activity.GroupNight != night) return;
        if (activity.NeedsCleanDown && activities[compact.CleanDownIndex(activity.Zone, night)] is { Modes: [] } cleanDown)
            if (cleanDown.HasBegun || problem.Nights[night].Closes > compact.Now) return;
        var from = Math.Max(compact.SlotAtOrAfter(night, activity.EarliestStart), manned ? compact.EarliestWorkSlot[night] : 0);
        var to = Math.Min(compact.SlotAtOrBefore(night, activity.LatestEnd), manned ? compact.LatestWorkEnd[night] : compact.SlotCounts[night]);
        if (activity.NeedsCleanDown) to = Math.Min(to, compact.LatestWorkEnd[night] - problem.Zones[activity.Zone].CleanDown!.Minutes / compact.SlotMinutes);
        if (to - slots < from) return;
        SlotSet.Add(starts, from, to - slots + 1);
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
