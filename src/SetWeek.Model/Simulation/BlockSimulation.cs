namespace SetWeek.Model.Simulation;

/// <summary>
/// Simulates a block of runs at once. It takes the activities in their order and starts each as soon as its predecessors, people,
/// resources and night allow. In the runs in which an activity no longer fits its night, it is put off.
/// </summary>
internal sealed class BlockSimulation
{
    private readonly SimulationNetwork network;
    private readonly NightLimits nightLimits;
    private readonly SimulationState state;
    private readonly PutOffActivities putOffActivities;
    private readonly float[] startTimes = new float[Lanes.Count], ends = new float[Lanes.Count];
    private readonly int[] predecessors = new int[Lanes.Count], startMask = new int[Lanes.Count];

    public BlockSimulation(SimulationNetwork network)
    {
        this.network = network;
        nightLimits = network.NightLimits;
        state = new SimulationState(network);
        putOffActivities = new PutOffActivities(network, state);
    }

    public SimulationState Simulate(int firstRun)
    {
        state.Reset();
        for (var index = 0; index < network.Activities.Count; index++)
        {
            putOffActivities.RetryPutOff(index);
            Simulate(index, network.Activities[index], firstRun);
        }
        putOffActivities.RetryPutOff(network.Activities.Count);
        putOffActivities.MarkNotDone();
        return state;
    }

    private void Simulate(int index, SimulatedActivity activity, int firstRun)
    {
        activity.Duration.FillSamples(state.MinutesOf(index), firstRun);
        Array.Fill(startTimes, activity.ReleaseTime);
        Array.Fill(predecessors, Lanes.NoPredecessor);
        state.NightsOf(index).Fill(activity.Night);
        Array.Fill(startMask, -1);
        switch (activity.Kind)
        {
            case SimulatedActivityKind.Stint:
                WaitForPredecessors(activity);
                WaitForNight(activity);
                StartOrPutOff(index, activity);
                break;
            case SimulatedActivityKind.CleanDown:
                WaitForPredecessors(activity);
                WaitForNight(activity);
                KeepWhereZoneWasWorked(activity);
                break;
            case SimulatedActivityKind.AddedCleanDown:
                WaitForPredecessors(activity);
                AddCleanDowns(index, activity);
                return;
            case SimulatedActivityKind.Break:
                WaitForPeople(activity);
                break;
            default:
                break;
        }
        Lanes.Add(ends, startTimes, state.MinutesOf(index));
        Record(index, activity);
    }

    private void WaitForPredecessors(SimulatedActivity activity)
    {
        foreach (var arc in activity.Predecessors)
        {
            if (activity.IsCleanDown) WaitForZoneClosing(arc, activity.Night);
            else Lanes.DelayUntil(startTimes, predecessors, state.Ends.Times(arc.Predecessor), arc.Lag, arc.Predecessor);
        }
        if (activity.Last) Lanes.DelayUntil(startTimes, predecessors, state.LatestEnd.Times(0), state.LatestEnd.Causes(0));
        if (activity.IsCleanDown)
        {
            var zone = state.ZoneRow(activity.Zone, activity.Night);
            Lanes.DelayUntil(startTimes, predecessors, state.ZoneEnds.Times(zone), state.ZoneEnds.Causes(zone));
        }
    }

    /// <summary>
    /// A clean-down stays in its night. It does not wait for an activity that closes its zone but was put off to a later night.
    /// </summary>
    private void WaitForZoneClosing(SimulatedPrecedence precedence, int night)
    {
        var closing = state.NightsOf(precedence.Predecessor);
        var ends = state.Ends.Times(precedence.Predecessor);
        for (var lane = 0; lane < Lanes.Count; lane++)
            if (closing[lane] >= 0 && closing[lane] <= night && ends[lane] + precedence.Lag > startTimes[lane])
                (startTimes[lane], predecessors[lane]) = (ends[lane] + precedence.Lag, precedence.Predecessor);
    }

    private void WaitForNight(SimulatedActivity activity)
    {
        Span<float> opens = stackalloc float[Lanes.Count];
        opens.Fill(nightLimits.EarliestStarts[activity.Night]);
        Lanes.DelayUntil(startTimes, predecessors, opens, 0, Lanes.NoPredecessor);
        WaitForPeople(activity);
        foreach (var demand in activity.Demands)
        {
            var unit = state.UnitRow(demand.Resource, activity.Night) + demand.Count - 1;
            Lanes.DelayUntil(startTimes, predecessors, state.UnitFree.Times(unit), state.UnitFree.Causes(unit));
        }
        if (activity.Bans.Count > 0)
            foreach (var ban in activity.Bans[activity.Night])
                Lanes.DelayPast(startTimes, predecessors, ban, activity.MostLikelyMinutes - network.GraceMinutes);
    }

    private void WaitForPeople(SimulatedActivity activity)
    {
        foreach (var person in activity.People)
        {
            var row = state.PersonRow(person, activity.Night);
            Lanes.DelayUntil(startTimes, predecessors, state.PersonFree.Times(row), state.PersonFree.Causes(row));
        }
    }

    /// <summary>Starts the activity in the lanes in which it fits its night, and puts it off in the others.</summary>
    private void StartOrPutOff(int index, SimulatedActivity activity)
    {
        var limit = putOffActivities.LatestStart(activity, activity.Night, activity.People);
        for (var lane = 0; lane < Lanes.Count; lane++)
        {
            if (activity.SameNightAs.Length == 0
                ? startTimes[lane] <= limit && !(activity.Last && putOffActivities.AnyOtherPutOff(index, lane))
                : putOffActivities.FollowsInSameNight(activity, lane, activity.Night, startTimes[lane], limit)) continue;
            startMask[lane] = 0;
            putOffActivities.PutOff(index, lane, predecessors[lane]);
        }
    }

    /// <summary>A clean-down is done in the lanes in which its zone was worked in, however late that work ends.</summary>
    private void KeepWhereZoneWasWorked(SimulatedActivity activity)
    {
        var worked = state.ZoneEnds.Times(state.ZoneRow(activity.Zone, activity.Night));
        for (var lane = 0; lane < Lanes.Count; lane++) startMask[lane] = worked[lane] > Lanes.None ? -1 : 0;
    }

    private void AddCleanDowns(int index, SimulatedActivity activity)
    {
        var worked = state.ZoneEnds.Times(state.ZoneRow(activity.Zone, activity.Night));
        state.Ends.Times(index).Fill(Lanes.None);
        for (var lane = 0; lane < Lanes.Count; lane++)
            if (worked[lane] > Lanes.None) putOffActivities.AddCleanDown(index, lane, startTimes[lane], predecessors[lane]);
    }

    /// <summary>Records the ends of the activity in the lanes in which it was done.</summary>
    private void Record(int index, SimulatedActivity activity)
    {
        if (activity.Kind == SimulatedActivityKind.CleanDown) state.Ends.Times(index).Fill(Lanes.None);
        Lanes.AssignWhere(state.Ends.Times(index), startMask, ends);
        for (var lane = 0; lane < Lanes.Count; lane++)
            if (startMask[lane] != 0) state.Ends.Causes(index)[lane] = predecessors[lane];
        foreach (var person in activity.People)
        {
            var row = state.PersonRow(person, activity.Night);
            Lanes.AssignWhere(state.PersonFree.Times(row), startMask, ends);
            Lanes.AssignWhere(state.PersonFree.Causes(row), startMask, index);
        }
        if (!activity.IsWork) return;
        foreach (var demand in activity.Demands) OccupyUnits(demand, index, activity.Night);
        // In the other lanes the end is set so early that it delays nothing.
        for (var lane = 0; lane < Lanes.Count; lane++)
            if (startMask[lane] == 0) ends[lane] = Lanes.None;
        Lanes.DelayUntil(state.NightEnds.Times(activity.Night), state.NightEnds.Causes(activity.Night), ends, 0, index);
        Lanes.DelayUntil(state.LatestEnd.Times(0), state.LatestEnd.Causes(0), ends, 0, index);
        if (activity.IsCleanDown || activity.Last) return;
        var zone = state.ZoneRow(activity.Zone, activity.Night);
        Lanes.DelayUntil(state.ZoneEnds.Times(zone), state.ZoneEnds.Causes(zone), ends, 0, index);
    }

    private void OccupyUnits(ResourceDemand demand, int index, int night)
    {
        var (first, size) = (state.UnitRow(demand.Resource, night), network.Resources.Capacities[demand.Resource]);
        for (var lane = 0; lane < Lanes.Count; lane++)
            if (startMask[lane] != 0)
                PutOffActivities.OccupyUnits(state.UnitFree, first, size, demand.Count, lane, ends[lane], index);
    }
}
