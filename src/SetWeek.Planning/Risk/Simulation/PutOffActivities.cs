using System.Numerics;

namespace SetWeek.Planning.Risk.Simulation;

/// <summary>
/// What no longer fits its night waits for the next one in which its people, or others with the skill, are on shift and in which
/// it fits when its turn comes. What fits no night is not done. One run at a time: this is the exception.
/// </summary>
internal sealed class PutOffActivities(SimulationNetwork network, SimulationState state)
{
    private readonly NightLimits nightLimits = network.NightLimits;
    private readonly List<int> assignedPeople = [];

    /// <summary>
    /// The crew begins a piece where, taking as long as is most likely, it ends while its people may stay, and leaves time for
    /// what must follow that night and for the clean-down; with grace, so much later, but for the under-18s. How long it will
    /// take nobody knows yet.
    /// </summary>
    public float LatestStart(SimulatedActivity activity, int night, IReadOnlyList<int> people)
    {
        var latest = nightLimits.LatestEnds[night] + network.GraceMinutes - activity.Tail - activity.CleanDownTail;
        foreach (var person in people)
            latest = Math.Min(latest, nightLimits.LatestDepartures[person, night] + (network.Problem.Crew[person].Under18 ? 0 : network.GraceMinutes));
        return latest - activity.MostLikelyMinutes;
    }

    /// <summary>
    /// Is it done in this night? What is to follow in the night of another piece is done there however late the night's work
    /// ends; where something else keeps it beyond that it cannot be.
    /// </summary>
    public bool FollowsInSameNight(SimulatedActivity activity, int lane, int night, float start, float limit) =>
        state.NightsOf(activity.SameNightAs)[lane] == night
        && (start <= limit || start < network.Problem.Nights[night].Closes || start <= state.NightEnds.Times(night)[lane]);

    /// <param name="cause">What kept it from fitting its night: that is what it has waited for, whenever it is done.</param>
    public void PutOff(int index, int lane, int cause)
    {
        state.PutOff[index] |= 1UL << lane;
        state.NightsOf(index)[lane] = -1;
        state.Ends.Set(index, lane, Lanes.Never, cause);
    }

    /// <summary>Does the final floor clean have to wait for something that was put off?</summary>
    public bool AnyOtherPutOff(int finalActivity, int lane)
    {
        for (var index = 0; index < state.PutOff.Length; index++)
            if (index != finalActivity && (state.PutOff[index] >> lane & 1) != 0) return true;
        return false;
    }

    public void RetryPutOff(int before)
    {
        foreach (var (index, night) in network.Retries.Before(before))
            for (var left = state.PutOff[index]; left != 0; left &= left - 1)
                Retry(index, night, BitOperations.TrailingZeroCount(left));
    }

    /// <summary>What still waits when all is through is not done.</summary>
    public void MarkNotDone()
    {
        for (var index = 0; index < state.PutOff.Length; index++)
            for (var left = state.PutOff[index]; left != 0; left &= left - 1)
            {
                var lane = BitOperations.TrailingZeroCount(left);
                state.LatestEnd.RaiseTo(0, lane, Lanes.Never, index);
                if (network.Activities[index].SameNightAs is >= 0 and var before && state.NightsOf(before)[lane] >= 0)
                    state.Unsecured |= 1UL << lane;
            }
    }

    private void Retry(int index, int night, int lane)
    {
        var activity = network.Activities[index];
        var ready = ReadyTime(index, activity, lane);
        if (ready >= Lanes.Never || !TryAssignCrew(activity, night, lane)) return;
        var start = StartTime(activity, night, lane, ready);
        var limit = LatestStart(activity, night, assignedPeople);
        var securing = activity.SameNightAs >= 0 && state.NightsOf(activity.SameNightAs)[lane] == night;
        if (securing ? !FollowsInSameNight(activity, lane, night, start, limit) : start > limit) return;
        if (activity.SameNightAs >= 0 && !securing) state.Unsecured |= 1UL << lane;
        state.PutOff[index] &= ~(1UL << lane);
        Record(index, activity, night, lane, start + state.MinutesOf(index)[lane], state.Ends.Causes(index)[lane]);
    }

    /// <summary>From when all that it waits for in whatever night is there.</summary>
    private float ReadyTime(int index, SimulatedActivity activity, int lane)
    {
        var ready = activity.ReleaseTime;
        foreach (var arc in activity.Predecessors) ready = Math.Max(ready, state.Ends.Times(arc.Predecessor)[lane] + arc.Lag);
        return !activity.Last ? ready : AnyOtherPutOff(index, lane) ? Lanes.Never : Math.Max(ready, state.LatestEnd.Times(0)[lane]);
    }

    /// <summary>A clean-down that nobody planned, for work that was put off: by whoever is free first.</summary>
    public void AddCleanDown(int index, int lane, float ready, int cause)
    {
        var activity = network.Activities[index];
        // Where nobody there can do it, it is done all the same and the night is the longer for it.
        if (!TryAssignCrew(activity, activity.Night, lane)) assignedPeople.Clear();
        var start = ready;
        foreach (var person in assignedPeople) DelayUntil(state.PersonFree, state.PersonRow(person, activity.Night), lane, ref start, ref cause);
        Record(index, activity, activity.Night, lane, start + state.MinutesOf(index)[lane], cause);
    }

    /// <summary>Uses the units that are free first, and keeps a pool's units in the order in which they become free.</summary>
    public static void OccupyUnits(LaneTimes units, int first, int size, int count, int lane, float end, int cause)
    {
        // Those that stay free move up; the ones taken come in where their end belongs.
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

        void Insert(int at)
        {
            for (var unit = at; unit < at + count; unit++) units.Set(first + unit, lane, end, cause);
        }
    }

    private float StartTime(SimulatedActivity activity, int night, int lane, float ready)
    {
        var start = Math.Max(ready, nightLimits.EarliestStarts[night]);
        var nobody = Lanes.NoPredecessor;
        foreach (var person in assignedPeople) DelayUntil(state.PersonFree, state.PersonRow(person, night), lane, ref start, ref nobody);
        foreach (var use in activity.Demands)
            DelayUntil(state.UnitFree, state.UnitRow(use.Resource, night) + use.Count - 1, lane, ref start, ref nobody);
        foreach (var ban in activity.Bans[night])
            if (start < ban.To && start + activity.MostLikelyMinutes - network.GraceMinutes > ban.From) start = ban.To;
        return start;
    }

    /// <summary>
    /// Fills every place with whoever of those who could is free first; places with the least choice come first.
    /// </summary>
    private bool TryAssignCrew(SimulatedActivity activity, int night, int lane)
    {
        assignedPeople.Clear();
        if (activity.EligibleCrewByNight[night] is not { } standIns) return false;
        foreach (var place in standIns.Positions)
        {
            var best = -1;
            foreach (var person in place)
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
        foreach (var use in activity.Demands)
            OccupyUnits(state.UnitFree, state.UnitRow(use.Resource, night), network.Resources.Capacities[use.Resource], use.Count, lane, end, index);
        state.NightEnds.RaiseTo(night, lane, end, index);
        state.LatestEnd.RaiseTo(0, lane, end, index);
        if (!activity.IsCleanDown && !activity.Last) state.ZoneEnds.RaiseTo(state.ZoneRow(activity.Zone, night), lane, end, index);
    }

    private static void DelayUntil(LaneTimes laneTimes, int row, int lane, ref float start, ref int cause)
    {
        if (laneTimes.Times(row)[lane] <= start) return;
        start = laneTimes.Times(row)[lane];
        cause = laneTimes.Causes(row)[lane];
    }
}
