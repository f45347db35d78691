using System.Numerics;

namespace SetWeek.Planning.Annealing;

/// <summary>Removal operators, drawn by the frequencies of <see cref="RuinParameters"/>.</summary>
internal sealed partial class Ruin
{
    private readonly int totalFrequency = parameters.Random + parameters.TwoNights + parameters.Similar + parameters.IdleShift
        + parameters.Display + parameters.ShiftTail + parameters.PersonsWork + parameters.TimeWindow + parameters.ZoneNight;

    /// <summary>Applies one removal operator, drawn by its relative frequency.</summary>
    private void RemoveRelated(ReadOnlySpan<int> movable)
    {
        var seed = PickSeed(movable);
        var draw = random.NextBelow(totalFrequency);
        if ((draw -= parameters.Random) < 0) RemoveRandom(movable);
        else if ((draw -= parameters.TwoNights) < 0) RemoveFromTwoNights(seed, movable);
        else if ((draw -= parameters.Similar) < 0) RemoveSimilar(seed, movable);
        else if ((draw -= parameters.IdleShift) < 0) RemoveFromIdleShift();
        else if ((draw -= parameters.Display) < 0) RemoveDisplay(seed);
        else if ((draw -= parameters.ShiftTail) < 0) RemoveShiftTail(seed);
        else if ((draw -= parameters.PersonsWork) < 0) RemovePersonsWork(seed);
        else if (draw < parameters.TimeWindow) RemoveTimeWindow(seed);
        else RemoveZoneNight(seed);
    }

    /// <summary>A random stint. With a late-work criterion it is often late work, if some tries find any.</summary>
    private int PickSeed(ReadOnlySpan<int> movable)
    {
        var seed = movable[random.NextBelow(movable.Length)];
        if (compact.LateWork is not { } lateWork || !random.NextBoolean(parameters.LateSeed)) return seed;
        for (var tries = 0; tries < parameters.LateSeedTries && LateMinutes(seed) == 0; tries++)
            seed = movable[random.NextBelow(movable.Length)];
        return seed;

        int LateMinutes(int stint) =>
            lateWork.LateMinutes(compact.Activities[stint], current.StartMinute[stint], current.EndMinute[stint]);
    }

    private void RemoveRandom(ReadOnlySpan<int> movable)
    {
        for (var step = 0; step < targetCount; step++) RemoveGroup(movable[random.NextBelow(movable.Length)]);
    }

    /// <summary>Removes random stints of two nights, so that they can swap nights.</summary>
    private void RemoveFromTwoNights(int seed, ReadOnlySpan<int> movable)
    {
        var (firstNight, secondNight) = (current.Night[seed], current.Night[movable[random.NextBelow(movable.Length)]]);
        var probability = targetCount / (double)movable.Length * compact.Nights / 2;
        foreach (var activity in movable)
            if ((current.Night[activity] == firstNight || current.Night[activity] == secondNight)
                && random.NextBoolean(probability))
                RemoveGroup(activity);
    }

    /// <summary>Removes stints that could swap places: of similar length, for as many people and for some of the same.</summary>
    private void RemoveSimilar(int seed, ReadOnlySpan<int> movable)
    {
        var mode = compact.Activities[seed].Modes[0];
        RemoveGroup(seed);
        for (var step = 0; step < parameters.SimilarTries * targetCount && removed.Count < targetCount; step++)
        {
            var other = movable[random.NextBelow(movable.Length)];
            var otherMode = compact.Activities[other].Modes[0];
            if (Math.Abs(otherMode.DurationSlots - mode.DurationSlots) * parameters.SimilarRatio
                    > mode.DurationSlots + parameters.SimilarSlots
                || otherMode.Requirements.Length != mode.Requirements.Length
                || mode.Requirements.Length > 0 && (otherMode.Requirements[0].Eligible & mode.Requirements[0].Eligible) == 0)
                continue;
            RemoveGroup(other);
        }
    }

    /// <summary>Removes some work of a shift with much idle time, and some other work that its person could do.</summary>
    private void RemoveFromIdleShift()
    {
        var at = MostIdleShift(parameters.IdleTries);
        if (at < 0) return;
        var (person, night) = (at / compact.Nights, at % compact.Nights);
        for (var activity = 0; activity < compact.Stints && removed.Count < targetCount; activity++)
        {
            if (!IsMovable(activity)) continue;
            var isOwnWork = current.Night[activity] == night && current.PeopleOf(activity).Contains((byte)person);
            var isEligible = (compact.Activities[activity].Modes[current.Mode[activity]].Eligible & 1UL << person) != 0;
            var probability = isOwnWork ? parameters.IdleOwnWork
                : isEligible ? parameters.IdleOtherWork * targetCount / compact.Stints : 0;
            if (random.NextBoolean(probability)) RemoveGroup(activity);
        }
    }

    /// <summary>Person-night with the most idle slots of some drawn at random; -1 if none of them has a shift.</summary>
    private int MostIdleShift(int tries)
    {
        var (mostIdle, maxIdleSlots) = (-1, -1);
        if (current.ShiftFrom.Length == 0) return -1; // a week without crew
        for (var step = 0; step < tries; step++)
        {
            var at = random.NextBelow(current.ShiftFrom.Length);
            if (current.ShiftFrom[at] < 0) continue;
            var idleSlots = current.ShiftTo[at] - current.ShiftFrom[at];
            foreach (var word in current.Busy.AsSpan(at * compact.WordsPerNight, compact.WordsPerNight))
                idleSlots -= BitOperations.PopCount(word);
            if (idleSlots > maxIdleSlots) (mostIdle, maxIdleSlots) = (at, idleSlots);
        }
        return mostIdle;
    }

    private void RemoveDisplay(int seed)
    {
        var display = compact.Activities[seed].Display;
        for (var activity = 0; activity < compact.Stints; activity++)
            if (compact.Activities[activity].Display == display && IsMovable(activity)
                && random.NextBoolean(parameters.DisplayWork))
                RemoveGroup(activity);
    }

    /// <summary>Removes the end, or the beginning, of one person's work in a night.</summary>
    private void RemoveShiftTail(int seed)
    {
        if (current.AssignedCount[seed] == 0) { RemoveTimeWindow(seed); return; }
        var (night, start) = (current.Night[seed], current.StartSlot[seed]);
        var person = PickPerson(seed);
        var removesTail = random.NextBoolean(parameters.TailRatherThanHead);
        for (var activity = 0; activity < compact.Stints; activity++)
        {
            if (current.Night[activity] != night || !IsMovable(activity)) continue;
            if (!current.PeopleOf(activity).Contains(person)) continue;
            if (removesTail ? current.StartSlot[activity] >= start : current.StartSlot[activity] <= start) RemoveGroup(activity);
        }
        RemoveMore(night);
    }

    /// <summary>Removes all work of a person in a night. Mostly the person gets no work in that night in this step.</summary>
    private void RemovePersonsWork(int seed)
    {
        var night = current.Night[seed];
        var person = current.AssignedCount[seed] > 0 ? PickPerson(seed) : -1;
        for (var activity = 0; activity < compact.Stints; activity++)
        {
            if (current.Night[activity] != night || !IsMovable(activity)) continue;
            if (person < 0 ? activity == seed : current.PeopleOf(activity).Contains((byte)person)) RemoveGroup(activity);
        }
        if (person >= 0 && random.NextBoolean(parameters.ExcludePerson)) insertion.ExcludedPeople[night] |= 1UL << person;
        RemoveMore(night);
    }

    /// <summary>Removes work at about the same time.</summary>
    private void RemoveTimeWindow(int seed)
    {
        var (night, middle) = (current.Night[seed], current.StartSlot[seed]);
        var reach = parameters.MinReach + random.NextBelow(parameters.ReachSpread);
        for (var activity = 0; activity < compact.Stints && removed.Count < 2 * targetCount; activity++)
            if (current.Night[activity] == night && IsMovable(activity)
                && current.EndSlot[activity] > middle - reach && current.StartSlot[activity] < middle + reach)
                RemoveGroup(activity);
    }

    /// <summary>Removes all work of a zone in a night, so that the zone needs no clean-down either.</summary>
    private void RemoveZoneNight(int seed)
    {
        var (night, zone) = (current.Night[seed], compact.Activities[seed].Zone);
        foreach (var activity in compact.StintsByZone[zone])
            if (current.Night[activity] == night && IsMovable(activity)) RemoveGroup(activity);
        RemoveMore(night);
    }

    /// <summary>Removes random stints of a night until enough are removed.</summary>
    private void RemoveMore(int night)
    {
        for (var activity = 0; activity < compact.Stints && removed.Count < targetCount; activity++)
            if (current.Night[activity] == night && IsMovable(activity) && random.NextBoolean(parameters.More))
                RemoveGroup(activity);
    }

    private byte PickPerson(int activity) =>
        current.Assigned[activity * compact.MaxPeoplePerActivity + random.NextBelow(current.AssignedCount[activity])];
}
