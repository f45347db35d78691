using SetWeek.Model.Problems;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Insertion;

/// <summary>Reads a plan of another search, or the published plan, into a partial schedule.</summary>
internal sealed class PartialScheduleReader(CompactProblem compact, ShortestShift shortestShift)
{
    private readonly FeasibleStarts feasibleStarts = new(compact);
    private readonly StaffMatching staffMatching = new(compact, shortestShift);

    /// <summary>Reads a checked plan without change.</summary>
    /// <param name="schedule">Receives the plan.</param>
    /// <param name="initial">The work and shifts that have begun.</param>
    /// <param name="source">The plan.</param>
    public void Read(PartialSchedule schedule, PartialSchedule initial, Schedule source)
    {
        schedule.CopyFrom(initial);
        SetChoices(schedule, source);
        foreach (var work in source.Work)
            if (ActivityOf(work) is { HasBegun: false } activity
                && Array.FindIndex(activity.Modes, mode => mode.ModeIndex == work.Mode) is >= 0 and var index)
                schedule.Insert(activity.Index, index, work.Night, (work.From - compact.Opens[work.Night]) / compact.SlotMinutes,
                    MatchPeople(activity.Modes[index], work.Assignments));
        foreach (var shift in source.Shifts)
            if (compact.BegunShifts.State(shift.Person * compact.Nights + shift.Night) != ShiftState.Ended)
                compact.SetShift(schedule, shift.Person, shift.Night,
                    Math.Max(0, compact.SlotAtOrBefore(shift.Night, shift.From)), compact.SlotAtOrBefore(shift.Night, shift.To));
        for (var night = 0; night < compact.Nights; night++) schedule.Keyholder[night] = source.Keyholders[night] ?? -1;
        schedule.ChangedNights = 0;
    }

    /// <summary>
    /// Reads the part of the published plan that still fits at its place: shifts first, then work in the order of its starts. The
    /// rest is missing.
    /// </summary>
    /// <param name="schedule">Receives that part.</param>
    /// <param name="initial">The work and shifts that have begun.</param>
    /// <param name="published">The plan.</param>
    /// <param name="dropSuccessors">
    /// True: work is missing too if one of its predecessors is. This keeps less and leaves more room.
    /// </param>
    public void ReadWhatFits(PartialSchedule schedule, PartialSchedule initial, Schedule published, bool dropSuccessors = false)
    {
        schedule.CopyFrom(initial);
        SetChoices(schedule, published);
        foreach (var shift in published.Shifts)
        {
            var (from, to) = compact.Published.ShiftToKeep(shift.Person * compact.Nights + shift.Night);
            if (from >= 0) InsertShift(schedule, shift.Person, shift.Night, from, to);
        }
        for (var night = 0; night < compact.Nights; night++)
            if (published.Keyholders[night] is { } keyholder
                && schedule.ShiftFrom[keyholder * compact.Nights + night] >= 0)
                schedule.Keyholder[night] = keyholder;
        foreach (var work in published.Work.OrderBy(work => work.From).ThenBy(work => work.Stint ?? int.MaxValue))
            if (work.From >= compact.Now && ActivityOf(work) is { HasBegun: false } activity
                && !(dropSuccessors && HasMissingPredecessor(schedule, activity)))
                InsertWork(schedule, activity, work);
    }

    /// <summary>Inserts the published shift or, if it no longer fits, the longest part of it that does, earliest first.</summary>
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
        var people = MatchPeople(mode, work.Assignments);
        var window = TimeWindow.Of(compact, schedule, activity.Index);
        if (people.Length != mode.Requirements.Length
            || !feasibleStarts.Find(schedule, activity, mode, work.Night, window, staffMatching.ExcludedPeople))
            return;
        if (start < 0 || start >= compact.PaddedSlotCount || !SlotSet.Contains(feasibleStarts.Starts, start)) return;
        var free = feasibleStarts.FreeAt(mode, start);
        foreach (var person in people)
        {
            if ((free & 1UL << person) == 0
                || !shortestShift.HoldsWork(schedule, person, work.Night, start, start + mode.DurationSlots))
                return;
        }
        schedule.Insert(activity.Index, index, work.Night, start, people);
    }

    private static bool HasMissingPredecessor(PartialSchedule schedule, CompactActivity activity)
    {
        foreach (var precedence in activity.Predecessors) if (schedule.Night[precedence.Activity] < 0) return true;
        return false;
    }

    private CompactActivity? ActivityOf(ScheduledWork work) => work.Stint is { } stint ? compact.Activities[stint]
        : compact.Problem.Zones[work.Zone].CleanDown is null ? null
        : compact.Activities[compact.CleanDownIndex(work.Zone, work.Night)];

    private void SetChoices(PartialSchedule schedule, Schedule source)
    {
        var placed = source.PlacedDisplays(compact.Problem);
        for (var index = 0; index < compact.DisplayDecisions.Length; index++)
        {
            var decision = compact.DisplayDecisions[index];
            var choice = placed[decision.Display] ? 0
                : decision.Alternate >= 0 && placed[decision.Alternate] ? 1 : DisplayDecision.LeftOut;
            schedule.Choice[index] = decision.OpenChoices.Contains(choice) ? choice : decision.OpenChoices[0];
        }
    }

    /// <summary>The assigned people in the order of a mode's requirements; empty if they do not meet them any more.</summary>
    private static byte[] MatchPeople(CompactMode mode, IReadOnlyList<Assignment> assignments)
    {
        var people = new byte[mode.Requirements.Length];
        return TryMatch(mode, assignments.ToList(), people, 0) ? people : [];
    }

    private static bool TryMatch(CompactMode mode, List<Assignment> unmatched, byte[] assigned, int requirement)
    {
        if (requirement == mode.Requirements.Length) return unmatched.Count == 0;
        for (var at = 0; at < unmatched.Count; at++)
        {
            var assignment = unmatched[at];
            var (eligible, skill) = mode.Requirements[requirement];
            if (assignment.Skill != skill || (eligible & 1UL << assignment.Person) == 0) continue;
            unmatched.RemoveAt(at);
            assigned[requirement] = (byte)assignment.Person;
            if (TryMatch(mode, unmatched, assigned, requirement + 1)) return true;
            unmatched.Insert(at, assignment);
        }
        return false;
    }
}
