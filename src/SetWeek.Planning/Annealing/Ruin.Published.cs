using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Annealing;

/// <summary>Removal operators of a re-plan: they remove what differs from the published plan, and what blocks it.</summary>
internal sealed partial class Ruin
{
    private readonly List<int> displaced = [];

    /// <summary>
    /// Picks a stint in another night than published, or a shift that differs, and removes what blocks its published place. If
    /// nothing differs, it removes about <paramref name="target"/> related stints.
    /// </summary>
    /// <param name="schedule">The schedule to ruin.</param>
    /// <param name="target">Number of stints to remove where nothing differs.</param>
    /// <param name="shuffled">Shuffled stints are picked instead.</param>
    public void RemoveDisplaced(PartialSchedule schedule, int target, bool shuffled = false)
    {
        if (!Begin(schedule, target, out var count)) return;
        if (shuffled) CollectShuffled();
        else CollectDisplaced();
        if (displaced.Count == 0) RemoveRelated(movable.AsSpan(0, count));
        else if (displaced[random.NextBelow(displaced.Count)] is var index && index < compact.Stints)
            RemoveForPublishedNight(index);
        else RemoveForPublishedShift(index - compact.Stints);
        if (random.NextBoolean(parameters.FinalStints) || FinalNightChanged) RemoveFinalStints();
        UpdateCleanDowns(random.NextBoolean(parameters.CleanDowns));
    }

    /// <summary>
    /// Releases a published shift: the person's work of that night is removed, and the person gets none in that night in this
    /// step. The shift may then move to another night.
    /// </summary>
    public void RemovePersonNight(PartialSchedule schedule)
    {
        if (!Begin(schedule, 0, out var count)) return;
        var seed = movable[random.NextBelow(count)];
        if (current.AssignedCount[seed] == 0) return;
        var (night, person) = (current.Night[seed], PickPerson(seed));
        if (random.NextBoolean(parameters.AnyNight)) night = random.NextBelow(compact.Nights);
        if (compact.Published.ShiftToKeep(person * compact.Nights + night).From < 0) return;
        compact.Published.ReleasedShifts[person * compact.Nights + night] = true;
        for (var activity = 0; activity < compact.Stints; activity++)
            if (current.Night[activity] == night && IsMovable(activity) && current.PeopleOf(activity).Contains(person))
                RemoveGroup(activity);
        insertion.ExcludedPeople[night] |= 1UL << person;
        current.ChangedNights |= 1u << night;
        if (FinalNightChanged) RemoveFinalStints();
        UpdateCleanDowns(evenIfSoiled: true);
    }

    /// <summary>
    /// Removes the work of zones and nights whose clean-down does not fit any more, and clean-downs that no work needs.
    /// </summary>
    public void RemoveWithoutCleanDown(PartialSchedule schedule)
    {
        if (!Begin(schedule, 0, out _)) return;
        RemoveFinalStints();
        for (var zone = 0; zone < compact.Zones; zone++)
            for (var night = 0; night < compact.Nights; night++)
            {
                if (insertion.UpdateCleanDown(current, zone, night)) continue;
                foreach (var activity in compact.StintsByZone[zone])
                    if (current.Night[activity] == night && IsMovable(activity)) RemoveGroup(activity);
            }
        UpdateCleanDowns(evenIfSoiled: false);
    }

    /// <summary>Lists what differs: stints by index, then person-nights from the number of stints on.</summary>
    private void CollectDisplaced()
    {
        displaced.Clear();
        var published = compact.Published;
        for (var activity = 0; activity < compact.Stints; activity++)
            if (IsMovable(activity) && published.NightOf(activity) is >= 0 and var night && night != current.Night[activity])
                displaced.Add(activity);
        for (var at = 0; at < current.ShiftFrom.Length; at++)
            if (published.ShiftChanges(current, at) > 0) displaced.Add(compact.Stints + at);
    }

    private void CollectShuffled()
    {
        displaced.Clear();
        for (var stint = 0; stint < compact.Stints; stint++)
            if (IsMovable(stint) && compact.Published.IsShuffled(current, stint)) displaced.Add(stint);
    }

    /// <summary>Removes the stint and some stints that compete for its published place.</summary>
    private void RemoveForPublishedNight(int activity)
    {
        RemoveGroup(activity);
        var (night, start) = (compact.Published.NightOf(activity), compact.Published.StartSlotOf(activity));
        if (start < 0) return;
        var mode = compact.Activities[activity].Modes[0];
        var slack = random.NextBelow(parameters.Slack);
        for (var other = 0; other < compact.Stints; other++)
            if (current.Night[other] == night && IsMovable(other) && current.EndSlot[other] > start - slack
                && current.StartSlot[other] < start + mode.DurationSlots + slack
                && CompetesWith(mode, compact.Activities[activity], other)
                && random.NextBoolean(parameters.PublishedNightBlocker))
                RemoveGroup(other);
    }

    /// <summary>Removes the person's work outside the published shift; all work of the night if no shift was published.</summary>
    private void RemoveForPublishedShift(int personNight)
    {
        var (person, night) = (personNight / compact.Nights, personNight % compact.Nights);
        compact.Published.ReleasedShifts[personNight] = false;
        current.ChangedNights |= 1u << night;
        var (from, to) = compact.Published.ShiftToKeep(personNight);
        for (var activity = 0; activity < compact.Stints; activity++)
        {
            if (current.Night[activity] != night || !IsMovable(activity)) continue;
            if (current.PeopleOf(activity).Contains((byte)person) && IsOutside(activity)) RemoveGroup(activity);
        }
        if (from < 0) insertion.ExcludedPeople[night] |= 1UL << person;
        // A keyholder, or a second person, is present for other people's work too.
        if (from >= 0 && random.NextBoolean(parameters.OthersBeyondShift))
            for (var activity = 0; activity < compact.Stints; activity++)
                if (current.Night[activity] == night && IsMovable(activity) && IsOutside(activity)
                    && random.NextBoolean(parameters.OtherBeyondShift))
                    RemoveGroup(activity);
        RemoveMore(night);

        bool IsOutside(int activity) => current.StartSlot[activity] < from || current.EndSlot[activity] > to;
    }
}
