using System.Numerics;

namespace SetWeek.Model.Simulation;

/// <summary>
/// Handles activities that do not fit their night. They wait for a later night in which they fit at their turn, and in which
/// their people, or others with the skills, are on shift. Activities that fit no night are not done. Putting off is rare, so it
/// is done lane by lane.
/// </summary>
internal sealed class PutOffActivities(SimulationNetwork network, SimulationState state)
{
    private readonly NightLimits nightLimits = network.NightLimits;
    private readonly List<int> assignedPeople = [];

    /// <summary>
    /// The latest start of an activity in a night. The crew knows only its most likely duration: with that duration it must end
    /// while its people may stay, and leave time for what must follow in the same night and for the clean-down. Grace allows
    /// later ends, except for people under 18.
    /// </summary>
    public float LatestStart(SimulatedActivity activity, int night, IReadOnlyList<int> people)
    {
        var latest = nightLimits.LatestEnds[night] + network.GraceMinutes - activity.Tail - activity.CleanDownTail;
        foreach (var person in people)
        {
            var grace = network.Problem.Crew[person].Under18 ? 0 : network.GraceMinutes;
            latest = Math.Min(latest, nightLimits.LatestDepartures[person, night] + grace);
        }
        return latest - activity.MostLikelyMinutes;
    }

    /// <summary>
    /// True if an activity that must follow others in the same night is done in that night. It follows however late the night's
    /// work ends. It cannot follow if something else, for example a ban, delays it beyond the end of that work.
    /// </summary>
    public bool FollowsInSameNight(SimulatedActivity activity, int lane, int night, float start, float limit) =>
        IsNightOfAll(activity.SameNightAs, lane, night)
        && (start <= limit || start < network.Problem.Nights[night].Closes || start <= state.NightEnds.Times(night)[lane]);

    private bool IsNightOfAll(int[] activities, int lane, int night)
    {
        foreach (var activity in activities) if (state.NightsOf(activity)[lane] != night) return false;
        return true;
    }

    /// <param name="index">The activity.</param>
    /// <param name="lane">The run.</param>
    /// <param name="cause">The activity that it waited for too long; it stays the binding predecessor in a later night.</param>
    public void PutOff(int index, int lane, int cause)
    {
        state.PutOff[index] |= 1UL << lane;
        state.NightsOf(index)[lane] = -1;
        state.Ends.Set(index, lane, Lanes.Never, cause);
    }

    /// <summary>True if the final floor clean has to wait for an activity that was put off.</summary>
    public bool AnyOtherPutOff(int finalActivity, int lane)
    {
        for (var index = 0; index < state.PutOff.Length; index++)
            if (index != finalActivity && (state.PutOff[index] >> lane & 1) != 0) return true;
        return false;
    }

    /// <summary>Retries the activities whose turn is before the given activity.</summary>
    public void RetryPutOff(int before)
    {
        foreach (var (index, night) in network.Retries.Before(before))
            for (var left = state.PutOff[index]; left != 0; left &= left - 1)
                Retry(index, night, BitOperations.TrailingZeroCount(left));
    }

    /// <summary>Marks the activities that still wait after the last retry as not done.</summary>
    public void MarkNotDone()
    {
        for (var index = 0; index < state.PutOff.Length; index++)
            for (var left = state.PutOff[index]; left != 0; left &= left - 1)
            {
                var lane = BitOperations.TrailingZeroCount(left);
                state.LatestEnd.RaiseTo(0, lane, Lanes.Never, index);
                foreach (var before in network.Activities[index].SameNightAs)
                    if (state.NightsOf(before)[lane] >= 0) state.MarkHalfSecured(index, lane);
            }
    }

    private void Retry(int index, int night, int lane)
    {
        var activity = network.Activities[index];
        var ready = ReadyTime(index, activity, lane);
        if (ready >= Lanes.Never || !TryAssignCrew(activity, night, lane)) return;
        var start = StartTime(activity, night, lane, ready);
        var limit = LatestStart(activity, night, assignedPeople);
        var secures = activity.SameNightAs.Length > 0;
        var securing = secures && IsNightOfAll(activity.SameNightAs, lane, night);
        if (securing ? !FollowsInSameNight(activity, lane, night, start, limit) : start > limit) return;
        if (secures && !securing) state.MarkHalfSecured(index, lane);
        state.PutOff[index] &= ~(1UL << lane);
        Record(index, activity, night, lane, start + state.MinutesOf(index)[lane], state.Ends.Causes(index)[lane]);
    }

    /// <summary>The earliest start that respects release time and predecessors, in any night.</summary>
    private float ReadyTime(int index, SimulatedActivity activity, int lane)
    {
        var ready = activity.ReleaseTime;
        foreach (var arc in activity.Predecessors) ready = Math.Max(ready, state.Ends.Times(arc.Predecessor)[lane] + arc.Lag);
        return !activity.Last ? ready
            : AnyOtherPutOff(index, lane) ? Lanes.Never : Math.Max(ready, state.LatestEnd.Times(0)[lane]);
    }

    /// <summary>Adds an unplanned clean-down after work that was put off; the people who are free first do it.</summary>
    public void AddCleanDown(int index, int lane, float ready, int cause)
    {
        var activity = network.Activities[index];
        // If nobody on shift has the skills, the clean-down still takes its time.
        if (!TryAssignCrew(activity, activity.Night, lane)) assignedPeople.Clear();
        var start = ready;
        foreach (var person in assignedPeople)
            DelayUntil(state.PersonFree, state.PersonRow(person, activity.Night), lane, ref start, ref cause);
        Record(index, activity, activity.Night, lane, start + state.MinutesOf(index)[lane], cause);
    }

    /// <summary>
    /// Occupies the units that are free first. A pool's units stay sorted by the time at which they become free.
    /// </summary>
    public static void OccupyUnits(LaneTimes units, int first, int size, int count, int lane, float end, int cause)
    {
        // Units that become free before the new end move forward; the occupied units follow them.
        for (var unit = 0; unit < size; unit++)
        {
            if (unit + count < size && units.Times(first + unit + count)[lane] <= end)
                units.Set(first + unit, lane, units.Times(first + unit + count)[lane], units.Causes(first + unit + count)[lane]);
            else
            {
                Insert(unit);
                return;
            }
        }

        void Insert(int position)
        {
            for (var unit = position; unit < position + count; unit++) units.Set(first + unit, lane, end, cause);
        }
    }

    private float StartTime(SimulatedActivity activity, int night, int lane, float ready)
    {
        var start = Math.Max(ready, nightLimits.EarliestStarts[night]);
        var unusedCause = Lanes.NoPredecessor;
        foreach (var person in assignedPeople)
            DelayUntil(state.PersonFree, state.PersonRow(person, night), lane, ref start, ref unusedCause);
        foreach (var demand in activity.Demands)
        {
            var row = state.UnitRow(demand.Resource, night) + demand.Count - 1;
            DelayUntil(state.UnitFree, row, lane, ref start, ref unusedCause);
        }
        foreach (var ban in activity.Bans[night])
            if (start < ban.To && start + activity.MostLikelyMinutes - network.GraceMinutes > ban.From) start = ban.To;
        return start;
    }

    /// <summary>
    /// Assigns to each position the eligible person who is free first. Positions with the fewest eligible people are filled
    /// first. False if a position cannot be filled.
    /// </summary>
    private bool TryAssignCrew(SimulatedActivity activity, int night, int lane)
    {
        assignedPeople.Clear();
        if (activity.EligibleCrewByNight[night] is not { } eligibleCrew) return false;
        foreach (var position in eligibleCrew.Positions)
        {
            var best = -1;
            foreach (var person in position)
                if (!assignedPeople.Contains(person) && (best < 0 || FreeFrom(person) < FreeFrom(best))) best = person;
            if (best < 0) return false;
            assignedPeople.Add(best);
        }
        return true;

        float FreeFrom(int person) => state.PersonFree.Times(state.PersonRow(person, night))[lane];
    }

    private void Record(int index, SimulatedActivity activity, int night, int lane, float end, int cause)
    {
        state.NightsOf(index)[lane] = night;
        state.Ends.Set(index, lane, end, cause);
        foreach (var person in assignedPeople) state.PersonFree.Set(state.PersonRow(person, night), lane, end, index);
        foreach (var demand in activity.Demands)
            OccupyUnits(state.UnitFree, state.UnitRow(demand.Resource, night), network.Resources.Capacities[demand.Resource],
                demand.Count, lane, end, index);
        state.NightEnds.RaiseTo(night, lane, end, index);
        state.LatestEnd.RaiseTo(0, lane, end, index);
        if (!activity.IsCleanDown && !activity.Last)
            state.ZoneEnds.RaiseTo(state.ZoneRow(activity.Zone, night), lane, end, index);
    }

    private static void DelayUntil(LaneTimes laneTimes, int row, int lane, ref float start, ref int cause)
    {
        if (laneTimes.Times(row)[lane] <= start) return;
        start = laneTimes.Times(row)[lane];
        cause = laneTimes.Causes(row)[lane];
    }
}
