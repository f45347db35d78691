using System.Numerics;

namespace SetWeek.Planning.Annealing;

/// <summary>What may be taken out together, and how often each of the kinds is.</summary>
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

    /// <summary>By chance; where nights are to be emptied, often one of those in the way, if any of a few is.</summary>
    private int PickSeed(ReadOnlySpan<int> movable)
    {
        var seed = movable[random.NextBelow(movable.Length)];
        if (compact.LateWork is not { } drain || !random.NextBoolean(parameters.LateSeed)) return seed;
        for (var tries = 0; tries < parameters.LateSeedTries && drain.LateMinutes(compact.Activities[seed], current.StartMinute[seed], current.EndMinute[seed]) == 0; tries++)
            seed = movable[random.NextBelow(movable.Length)];
        return seed;
    }

    private void RemoveRandom(ReadOnlySpan<int> movable)
    {
        for (var step = 0; step < targetCount; step++) RemoveGroup(movable[random.NextBelow(movable.Length)]);
    }

    /// <summary>Some work of two nights at once, so that it can change places.</summary>
    private void RemoveFromTwoNights(int seed, ReadOnlySpan<int> movable)
    {
        var (one, other) = (current.Night[seed], current.Night[movable[random.NextBelow(movable.Length)]]);
        var share = targetCount / (double)movable.Length * compact.Nights / 2;
        foreach (var activity in movable)
            if ((current.Night[activity] == one || current.Night[activity] == other) && random.NextBoolean(share)) RemoveGroup(activity);
    }

    /// <summary>Jobs that could change places: for the same people, and about as long.</summary>
    private void RemoveSimilar(int seed, ReadOnlySpan<int> movable)
    {
        var way = compact.Activities[seed].Modes[0];
        RemoveGroup(seed);
        for (var step = 0; step < parameters.SimilarTries * targetCount && removed.Count < targetCount; step++)
        {
            var other = movable[random.NextBelow(movable.Length)];
            var its = compact.Activities[other].Modes[0];
            if (Math.Abs(its.DurationSlots - way.DurationSlots) * parameters.SimilarRatio > way.DurationSlots + parameters.SimilarSlots || its.Requirements.Length != way.Requirements.Length
                || way.Requirements.Length > 0 && (its.Requirements[0].Eligible & way.Requirements[0].Eligible) == 0)
                continue;
            RemoveGroup(other);
        }
    }

    /// <summary>Some work of a shift with much time paid and not worked, and some that could be done there.</summary>
    private void RemoveFromIdleShift()
    {
        var at = MostIdleShift(parameters.IdleTries);
        if (at < 0) return;
        var (who, night) = (at / compact.Nights, at % compact.Nights);
        for (var activity = 0; activity < compact.Stints && removed.Count < targetCount; activity++)
        {
            if (!IsMovable(activity)) continue;
            var theirs = current.Night[activity] == night && current.PeopleOf(activity).Contains((byte)who);
            var could = (compact.Activities[activity].Modes[current.Mode[activity]].Eligible & 1UL << who) != 0;
            if (random.NextBoolean(theirs ? parameters.IdleOwnWork : could ? parameters.IdleOtherWork * targetCount / compact.Stints : 0)) RemoveGroup(activity);
        }
    }

    /// <summary>Of so many person-nights by chance, the shift with most time not worked; -1 where none has a shift.</summary>
    private int MostIdleShift(int tries)
    {
        var (found, most) = (-1, -1);
        if (current.ShiftFrom.Length == 0) return found; // a week without crew
        for (var step = 0; step < tries; step++)
        {
            var at = random.NextBelow(current.ShiftFrom.Length);
            if (current.ShiftFrom[at] < 0) continue;
            var idle = current.ShiftTo[at] - current.ShiftFrom[at];
            foreach (var word in current.Busy.AsSpan(at * compact.WordsPerNight, compact.WordsPerNight)) idle -= BitOperations.PopCount(word);
            if (idle > most) (found, most) = (at, idle);
        }
        return found;
    }

    private void RemoveDisplay(int seed)
    {
        var display = compact.Activities[seed].Display;
        for (var activity = 0; activity < compact.Stints; activity++)
            if (compact.Activities[activity].Display == display && IsMovable(activity) && random.NextBoolean(parameters.DisplayWork)) RemoveGroup(activity);
    }

    /// <summary>The end, or the beginning, of somebody's night.</summary>
    private void RemoveShiftTail(int seed)
    {
        if (current.AssignedCount[seed] == 0) { RemoveTimeWindow(seed); return; }
        var (night, start) = (current.Night[seed], current.StartSlot[seed]);
        var person = current.Assigned[seed * compact.MaxPeoplePerActivity + random.NextBelow(current.AssignedCount[seed])];
        var tail = random.NextBoolean(parameters.TailRatherThanHead);
        for (var activity = 0; activity < compact.Stints; activity++)
        {
            if (current.Night[activity] != night || !IsMovable(activity) || !current.PeopleOf(activity).Contains(person)) continue;
            if (tail ? current.StartSlot[activity] >= start : current.StartSlot[activity] <= start) RemoveGroup(activity);
        }
        RemoveMore(night);
    }

    /// <summary>All that somebody does in a night; half the time they get nothing there this time.</summary>
    private void RemovePersonsWork(int seed)
    {
        var night = current.Night[seed];
        var person = current.AssignedCount[seed] > 0 ? current.Assigned[seed * compact.MaxPeoplePerActivity + random.NextBelow(current.AssignedCount[seed])] : -1;
        for (var activity = 0; activity < compact.Stints; activity++)
        {
            if (current.Night[activity] != night || !IsMovable(activity)) continue;
            if (person < 0 ? activity == seed : current.PeopleOf(activity).Contains((byte)person)) RemoveGroup(activity);
        }
        if (person >= 0 && random.NextBoolean(parameters.ExcludePerson)) insertion.ExcludedPeople[night] |= 1UL << person;
        RemoveMore(night);
    }

    /// <summary>What goes on about the same time.</summary>
    private void RemoveTimeWindow(int seed)
    {
        var (night, middle) = (current.Night[seed], current.StartSlot[seed]);
        var reach = parameters.MinReach + random.NextBelow(parameters.ReachSpread);
        for (var activity = 0; activity < compact.Stints && removed.Count < 2 * targetCount; activity++)
            if (current.Night[activity] == night && IsMovable(activity) && current.EndSlot[activity] > middle - reach && current.StartSlot[activity] < middle + reach)
                RemoveGroup(activity);
    }

    /// <summary>All work of a zone in a night: without it there is no clean-down either.</summary>
    private void RemoveZoneNight(int seed)
    {
        var (night, zone) = (current.Night[seed], compact.Activities[seed].Zone);
        foreach (var activity in compact.StintsByZone[zone])
            if (current.Night[activity] == night && IsMovable(activity)) RemoveGroup(activity);
        RemoveMore(night);
    }

    /// <summary>A few more of the same night, by chance.</summary>
    private void RemoveMore(int night)
    {
        for (var activity = 0; activity < compact.Stints && removed.Count < targetCount; activity++)
            if (current.Night[activity] == night && IsMovable(activity) && random.NextBoolean(parameters.More)) RemoveGroup(activity);
    }
}
