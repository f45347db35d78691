using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Annealing;

/// <summary>In a re-plan: what is otherwise than published, and what is in the way of its going back.</summary>
internal sealed partial class Ruin
{
    private readonly List<int> displaced = [];

    /// <summary>
    /// Takes out a stint that has another night than published with what lies where it was, or what keeps a shift from being
    /// as published; where nothing is otherwise, about so many stints by chance.
    /// </summary>
    public void RemoveDisplaced(PartialSchedule schedule, int target)
    {
        if (!Begin(schedule, target, out var count)) return;
        CollectDisplaced();
        if (displaced.Count == 0) RemoveRelated(movable.AsSpan(0, count));
        else if (displaced[random.NextBelow(displaced.Count)] is var one && one < compact.Stints) RemoveForPublishedNight(one);
        else RemoveForPublishedShift(one - compact.Stints);
        if (random.NextBoolean(parameters.FinalStints) || FinalNightChanged) RemoveFinalStints();
        UpdateCleanDowns(random.NextBoolean(parameters.CleanDowns));
    }

    /// <summary>A published shift need not stay, and its person gets no work that night: they may be on in another one.</summary>
    public void RemovePersonNight(PartialSchedule schedule)
    {
        if (!Begin(schedule, 0, out var count)) return;
        var seed = movable[random.NextBelow(count)];
        if (current.AssignedCount[seed] == 0) return;
        var (night, person) = (current.Night[seed], current.Assigned[seed * compact.MaxPeoplePerActivity + random.NextBelow(current.AssignedCount[seed])]);
        if (random.NextBoolean(parameters.AnyNight)) night = random.NextBelow(compact.Nights);
        if (compact.Published.ShiftToKeep(person * compact.Nights + night).From < 0) return;
        compact.Published.ReleasedShifts[person * compact.Nights + night] = true;
        for (var activity = 0; activity < compact.Stints; activity++)
            if (current.Night[activity] == night && IsMovable(activity) && current.PeopleOf(activity).Contains(person)) RemoveGroup(activity);
        insertion.ExcludedPeople[night] |= 1UL << person;
        current.ChangedNights |= 1u << night;
        if (FinalNightChanged) RemoveFinalStints();
        UpdateCleanDowns(evenIfSoiled: true);
    }

    /// <summary>Work that was kept in a zone whose clean-down does not fit any more goes, and clean-downs after no work.</summary>
    public void RemoveWithoutCleanDown(PartialSchedule schedule)
    {
        if (!Begin(schedule, 0, out _)) return;
        RemoveFinalStints();
        for (var zone = 0; zone < compact.Zones; zone++)
            for (var night = 0; night < compact.Nights; night++)
            {
                if (insertion.UpdateCleanDown(current, zone, night)) continue;
                foreach (var activity in compact.StintsByZone[zone]) if (current.Night[activity] == night && IsMovable(activity)) RemoveGroup(activity);
            }
        UpdateCleanDowns(false);
    }

    /// <summary>Stints by index, then person-nights.</summary>
    private void CollectDisplaced()
    {
        displaced.Clear();
        var publication = compact.Published;
        for (var activity = 0; activity < compact.Stints; activity++)
            if (IsMovable(activity) && publication.NightOf(activity) >= 0 && publication.NightOf(activity) != current.Night[activity]) displaced.Add(activity);
        for (var at = 0; at < current.ShiftFrom.Length; at++)
            if (publication.ShiftChanges(current, at) > 0) displaced.Add(compact.Stints + at);
    }

    private void RemoveForPublishedNight(int activity)
    {
        RemoveGroup(activity);
        var (night, start) = (compact.Published.NightOf(activity), compact.Published.StartSlotOf(activity));
        if (start < 0) return;
        var mode = compact.Activities[activity].Modes[0];
        var slack = random.NextBelow(parameters.Slack);
        for (var other = 0; other < compact.Stints; other++)
            if (current.Night[other] == night && IsMovable(other) && current.EndSlot[other] > start - slack
                && current.StartSlot[other] < start + mode.DurationSlots + slack && CompetesWith(mode, compact.Activities[activity], other)
                && random.NextBoolean(parameters.PublishedNightBlocker))
                RemoveGroup(other);
    }

    /// <summary>The person's work outside the hours published goes to others, or elsewhere; where there were none, all of it.</summary>
    private void RemoveForPublishedShift(int personNight)
    {
        var (person, night) = (personNight / compact.Nights, personNight % compact.Nights);
        compact.Published.ReleasedShifts[personNight] = false;
        current.ChangedNights |= 1u << night;
        var (from, to) = compact.Published.ShiftToKeep(personNight);
        for (var activity = 0; activity < compact.Stints; activity++)
        {
            if (current.Night[activity] != night || !IsMovable(activity)) continue;
            if (current.PeopleOf(activity).Contains((byte)person) && (current.StartSlot[activity] < from || current.EndSlot[activity] > to)) RemoveGroup(activity);
        }
        if (from < 0) insertion.ExcludedPeople[night] |= 1UL << person;
        // A keyholder, or company, is there for others' work too: what reaches beyond their hours.
        if (from >= 0 && random.NextBoolean(parameters.OthersBeyondShift))
            for (var activity = 0; activity < compact.Stints; activity++)
                if (current.Night[activity] == night && IsMovable(activity) && (current.StartSlot[activity] < from || current.EndSlot[activity] > to)
                    && random.NextBoolean(parameters.OtherBeyondShift))
                    RemoveGroup(activity);
        RemoveMore(night);
    }
}
