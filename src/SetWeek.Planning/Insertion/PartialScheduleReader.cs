using SetWeek.Model.Problems;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>Another's plan, or the published one, as a draft to go on from.</summary>
internal sealed class PartialScheduleReader(CompactProblem compact, ShortestShift shortestShift)
{
    private readonly FeasibleStarts feasibleStarts = new(compact);
    private readonly StaffMatching staffMatching = new(compact, shortestShift);

    /// <summary>A checked plan, as it is.</summary>
    public void Read(PartialSchedule schedule, PartialSchedule initial, Schedule source)
    {
        schedule.CopyFrom(initial);
        SetChoices(schedule, source);
        foreach (var work in source.Work)
            if (ActivityOf(work) is { HasBegun: false } activity
                && Array.FindIndex(activity.Modes, mode => mode.ModeIndex == work.Mode) is >= 0 and var manner)
                schedule.Insert(activity.Index, manner, work.Night, (work.From - compact.Opens[work.Night]) / compact.SlotMinutes,
                    MatchPeople(activity.Modes[manner], work.Assignments));
        foreach (var shift in source.Shifts)
            if (compact.BegunShifts.State(shift.Person * compact.Nights + shift.Night) != ShiftState.Ended)
                compact.SetShift(schedule, shift.Person, shift.Night,
                    Math.Max(0, compact.SlotAtOrBefore(shift.Night, shift.From)), compact.SlotAtOrBefore(shift.Night, shift.To));
        for (var night = 0; night < compact.Nights; night++) schedule.Keyholder[night] = source.Keyholders[night] ?? -1;
        schedule.ChangedNights = 0;
    }

    /// <summary>
    /// Of the published plan what still fits where it was: shifts first, then work in the order of its times. The rest is
    /// missing.
    /// </summary>
    /// <param name="schedule">Filled with it.</param>
    /// <param name="initial">What has begun.</param>
    /// <param name="published">The plan.</param>
    /// <param name="dropSuccessors">
    /// What follows on something missing is missing too: there is more room for that, and less is kept.
    /// </param>
    public void ReadWhatFits(PartialSchedule schedule, PartialSchedule initial, Schedule published, bool dropSuccessors = false)
    {
        schedule.CopyFrom(initial);
        SetChoices(schedule, published);
        foreach (var shift in published.Shifts)
        {
            var (begins, ends) = compact.Published.ShiftToKeep(shift.Person * compact.Nights + shift.Night);
            if (begins >= 0) InsertShift(schedule, shift.Person, shift.Night, begins, ends);
        }
        for (var night = 0; night < compact.Nights; night++)
            if (published.Keyholders[night] is { } keyholder
                && schedule.ShiftFrom[keyholder * compact.Nights + night] >= 0)
                schedule.Keyholder[night] = keyholder;
        foreach (var work in published.Work.OrderBy(work => work.From).ThenBy(work => work.Stint ?? int.MaxValue))
            if (work.From >= compact.Now && ActivityOf(work) is { HasBegun: false } activity
                && !(dropSuccessors && HasMissingPredecessor(schedule, activity))) InsertWork(schedule, activity, work);
    }

    /// <summary>As it was or, where its night has become shorter, as much of it as there is room for.</summary>
    private void InsertShift(PartialSchedule schedule, int person, int night, int publishedFrom, int publishedTo)
    {
        for (var cut = 0; cut < publishedTo - publishedFrom; cut += compact.FeasibleShifts.SlotsPerMoment)
            for (var early = 0; early <= cut; early += compact.FeasibleShifts.SlotsPerMoment)
                if (shortestShift.TryFind(schedule, person, night, publishedFrom + early, publishedTo - cut + early, 0, 0, 0, 0,
                    out var from, out var to)
                    && (from, to) == (publishedFrom + early, publishedTo - cut + early))
                {
                    compact.SetShift(schedule, person, night, from, to);
                    return;
                }
    }

    private void InsertWork(PartialSchedule schedule, CompactActivity activity, ScheduledWork work)
    {
        var index = Array.FindIndex(activity.Modes, mode => mode.ModeIndex == work.Mode);
        if (index < 0 || (work.From - compact.Opens[work.Night]) % compact.SlotMinutes != 0) return;
        var mode = activity.Modes[index];
        var start = (work.From - compact.Opens[work.Night]) / compact.SlotMinutes;
        var hands = MatchPeople(mode, work.Assignments);
        if (hands.Length != mode.Requirements.Length
            || !feasibleStarts.Find(schedule, activity, mode, work.Night, TimeWindow.Of(compact, schedule, activity.Index), staffMatching.ExcludedPeople))
            return;
        if (start < 0 || start >= compact.PaddedSlotCount || !SlotSet.Contains(feasibleStarts.Starts, start)) return;
        var free = feasibleStarts.FreeAt(mode, start);
        foreach (var person in hands)
        {
            var at = person * compact.Nights + work.Night;
            if ((free & 1UL << person) == 0 || schedule.ShiftFrom[at] < 0 || start < schedule.ShiftFrom[at]
                || start + mode.DurationSlots > schedule.ShiftTo[at])
                return;
            if (!shortestShift.BreakFits(schedule, person, work.Night, schedule.ShiftFrom[at], schedule.ShiftTo[at], start,
                start + mode.DurationSlots))
                return;
        }
        schedule.Insert(activity.Index, index, work.Night, start, hands);
    }

    private static bool HasMissingPredecessor(PartialSchedule schedule, CompactActivity activity)
    {
        foreach (var precedence in activity.Predecessors) if (schedule.Night[precedence.Activity] < 0) return true;
        return false;
    }

    private CompactActivity? ActivityOf(ScheduledWork work) => work.Stint is { } stint ? compact.Activities[stint]
        : compact.Problem.Zones[work.Zone].CleanDown is null ? null : compact.Activities[compact.CleanDownIndex(work.Zone, work.Night)];

    private void SetChoices(PartialSchedule schedule, Schedule source)
    {
        var placed = source.PlacedDisplays(compact.Problem);
        for (var at = 0; at < compact.DisplayDecisions.Length; at++)
        {
            var option = compact.DisplayDecisions[at];
            var choice = placed[option.Display] ? 0 : option.Alternate >= 0 && placed[option.Alternate] ? 1 : 2;
            schedule.Choice[at] = option.OpenChoices.Contains(choice) ? choice : option.OpenChoices[0];
        }
    }

    /// <summary>Who worked, in the order of a manner's seats; shorter where somebody does not fit any more.</summary>
    private static byte[] MatchPeople(CompactMode mode, IReadOnlyList<Assignment> people)
    {
        var hands = new byte[mode.Requirements.Length];
        var left = people.ToList();
        return TryMatch(mode, left, hands, 0) ? hands : [];
    }

    private static bool TryMatch(CompactMode mode, List<Assignment> unmatched, byte[] assigned, int requirement)
    {
        if (requirement == mode.Requirements.Length) return unmatched.Count == 0;
        for (var at = 0; at < unmatched.Count; at++)
        {
            var assignment = unmatched[at];
            if (assignment.Skill != mode.Requirements[requirement].Skill || (mode.Requirements[requirement].Eligible & 1UL << assignment.Person) == 0) continue;
            unmatched.RemoveAt(at);
            assigned[requirement] = (byte)assignment.Person;
            if (TryMatch(mode, unmatched, assigned, requirement + 1)) return true;
            unmatched.Insert(at, assignment);
        }
        return false;
    }
}
