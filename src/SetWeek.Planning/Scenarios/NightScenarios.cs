using System.Numerics;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Simulation;
using SetWeek.Planning.Compact;

namespace SetWeek.Planning.Scenarios;

/// <summary>
/// Finds the scenarios in which a night of a partial schedule stands as it is: all its work is done that night, in its order, by
/// its people, and in time. <see cref="BlockSimulation"/> defines what in time means. It also lets work be done in a later
/// night, which this leaves out: so a night depends on its own content alone, and can be remembered.
/// </summary>
internal sealed class NightScenarios
{
    private readonly CompactProblem compact;
    private readonly Problem problem;
    private readonly DurationScenarios durations;
    private readonly NightSteps steps;
    private readonly int grace, closing, opening;
    private readonly int[] firstUnit, zonePlaces, unitFreeFrom, rowOf, units;
    private readonly ScenarioTimes personFree, ends, zoneEnds, zoneClosed, unitFree, nightEnd, start, excess;
    private int unitCount;

    public NightScenarios(CompactProblem compact, DurationScenarios durations)
    {
        (this.compact, this.durations, problem) = (compact, durations, compact.Problem);
        grace = problem.Week.Hold.GraceMinutes;
        (closing, opening) = problem.Rules.KeyholderPresent
            ? (problem.Rules.ClosingMinutes ?? 0, problem.Rules.OpeningMinutes ?? 0) : (0, 0);
        steps = new NightSteps(compact, closing);
        var resources = new RenewableResources(problem);
        var capacities = resources.Capacities;
        zonePlaces = [.. problem.Zones.Select(zone => resources.PlacesOf(zone.Index))];
        firstUnit = new int[capacities.Count + 1];
        for (var kind = 0; kind < capacities.Count; kind++) firstUnit[kind + 1] = firstUnit[kind] + capacities[kind];
        unitFreeFrom = new int[firstUnit[^1]];
        units = new int[unitFreeFrom.Length];
        rowOf = new int[compact.Activities.Length];
        ScenarioTimes Rows(int count) => new(count, durations.Lanes / Vector<float>.Count);
        (personFree, ends) = (Rows(compact.People), Rows(steps.Most));
        (zoneEnds, zoneClosed) = (Rows(compact.Zones), Rows(compact.Zones));
        unitFree = Rows(unitFreeFrom.Length);
        (nightEnd, start, excess) = (Rows(1), Rows(1), Rows(1));
    }

    /// <summary>
    /// Collects the night's work and breaks, and returns a hash of all that the result depends on. Equal hashes are taken for
    /// equal nights. They have 64 bits, so a collision is far rarer than the noise of the sample.
    /// </summary>
    public ulong Prepare(PartialSchedule schedule, int night) => steps.Prepare(schedule, night);

    /// <summary>Writes the set of scenarios in which the prepared night stands as it is, a bit each.</summary>
    public void Evaluate(PartialSchedule schedule, int night, Span<ulong> held)
    {
        var latestEnd = steps.LatestEnd(schedule, night);
        Reset(schedule, night);
        for (var step = 0; step < steps.Count; step++)
            if (steps[step] < 0) TakeBreak(-1 - steps[step], step);
            else Work(schedule, night, steps[step], step, latestEnd);
        var closes = problem.Nights[night].Closes;
        // The closing may run over by the grace. The launch is met with the closing left out.
        var launch = problem.Grid.MinuteOf(problem.Week.Launch);
        Exceed(nightEnd[0], Math.Min(closes + grace - closing, problem.HasPassed(launch) ? Problem.Never : launch));
        held.Clear();
        for (var lane = 0; lane < durations.Count; lane++)
            if (excess[0][lane / Vector<float>.Count][lane % Vector<float>.Count] <= 0) held[lane >> 6] |= 1UL << lane;
    }

    private void Reset(PartialSchedule schedule, int night)
    {
        foreach (var times in (ReadOnlySpan<ScenarioTimes>)[zoneEnds, zoneClosed, unitFree, nightEnd, excess])
            times.Fill(Lanes.None);
        Array.Fill(unitFreeFrom, int.MinValue);
        for (var person = 0; person < compact.People; person++)
            if (schedule.ShiftFrom[person * compact.Nights + night] is >= 0 and var slot)
                personFree[person].Fill(new Vector<float>(compact.MinuteAt(night, slot)));
    }

    private void TakeBreak(int person, int step)
    {
        start.Fill(steps.FromOf(step));
        Wait(personFree, person);
        ScenarioTimes.Add(ends[step], start[0], steps.BreakMinutes(person, steps.FromOf(step)));
        ends[step].CopyTo(personFree[person]);
    }

    private void Work(PartialSchedule schedule, int night, int index, int step, int latestEnd)
    {
        var activity = compact.Activities[index];
        var people = schedule.PeopleOf(index);
        rowOf[index] = step;
        var release = activity.HasBegun ? schedule.StartMinute[index]
            : Math.Max(activity.EarliestStart, EarliestWork(schedule, night));
        foreach (var precedence in activity.Predecessors)
            if (!activity.HasBegun && schedule.Night[precedence.Activity] is >= 0 and var other && other != night)
                release = Math.Max(release, schedule.EndMinute[precedence.Activity] + precedence.Lag);
        start.Fill(release);
        var closesZone = activity.ZoneClosedMinutes > 0;
        if (!activity.HasBegun)
        {
            foreach (var precedence in activity.Predecessors)
                if (schedule.Night[precedence.Activity] == night && ComesBefore(precedence.Activity, step))
                    Wait(ends, rowOf[precedence.Activity], precedence.Lag);
            if (activity.IsFinal) Wait(nightEnd, 0);
            if (activity.CleanDownNight >= 0 || closesZone) Wait(zoneEnds, activity.Zone);
            if (!closesZone) Wait(zoneClosed, activity.Zone);
            foreach (var person in people) Wait(personFree, person);
        }
        WaitForUnits(schedule, index, people.Length);
        if (activity.CleanDownNight >= 0)
            ScenarioTimes.Add(ends[step], start[0], CleanDownMinutes(activity));
        else
        {
            var mode = activity.HasBegun ? 0 : activity.Modes[schedule.Mode[index]].ModeIndex;
            if (!activity.HasBegun) KeepLimits(activity, night, durations.MostLikelyOf(index, mode), people, latestEnd);
            ScenarioTimes.Add(ends[step], start[0], durations.MinutesOf(index, mode));
            var task = problem.Stints[index].Task;
            if (task.LastStint == index && problem.BindingDue(task) is var due && due < Problem.Never) Exceed(ends[step], due);
        }
        Occupy(activity, step, people);
    }

    private int EarliestWork(PartialSchedule schedule, int night) => schedule.Keyholder[night] is >= 0 and var keyholder
        ? compact.MinuteAt(night, schedule.ShiftFrom[keyholder * compact.Nights + night]) + opening : compact.Opens[night];

    /// <summary>True if the activity has its row already: plans start work after its predecessors.</summary>
    private bool ComesBefore(int activity, int step) => rowOf[activity] < step && steps[rowOf[activity]] == activity;

    /// <summary>Delays the start past bans, and records by how much it exceeds the latest start.</summary>
    private void KeepLimits(CompactActivity activity, int night, float likely, ReadOnlySpan<byte> people, int latestEnd)
    {
        foreach (var ban in problem.Nights[night].Bans)
            if (problem.Tasks[activity.Task].Traits.Contains(ban.Trait))
                ScenarioTimes.DelayPast(start[0], ban.Span, likely - grace);
        var tail = activity.SameNightTail * compact.SlotMinutes
            + (activity.NeedsCleanDown ? CleanDownMinutes(activity) + activity.ZoneClosedMinutes : 0);
        float limit = latestEnd + grace - tail;
        foreach (var person in people)
            limit = Math.Min(limit, steps.DepartureOf(person) + (problem.Crew[person].Under18 ? 0 : grace));
        limit -= likely;
        // What secures work begun in the same night is done however late it starts in the night.
        if (activity.SameNightGroup.Length > 1 && activity.SameNightGroup[0] != activity.Index)
            limit = Math.Max(limit, problem.Nights[night].Closes);
        Exceed(start[0], limit);
    }

    /// <summary>Not rounded up to the grid, as in the whole simulation.</summary>
    private int CleanDownMinutes(CompactActivity activity) => problem.Week.Store.Zones[activity.Zone].CleanDown!.Minutes;

    /// <summary>Takes, of each kind of equipment and of the zone's places, the units that are free first by the plan.</summary>
    private void WaitForUnits(PartialSchedule schedule, int index, int people)
    {
        unitCount = 0;
        var activity = compact.Activities[index];
        if (!activity.HasBegun)
            foreach (var demand in activity.Modes[schedule.Mode[index]].Equipment)
                TakeUnits(demand.Equipment, demand.Count, schedule.EndMinute[index]);
        if (zonePlaces[activity.Zone] is >= 0 and var places) TakeUnits(places, people, schedule.EndMinute[index]);
        if (activity.HasBegun) return;
        for (var unit = 0; unit < unitCount; unit++) Wait(unitFree, units[unit]);
    }

    private void TakeUnits(int kind, int count, int until)
    {
        for (; count > 0; count--)
        {
            var first = firstUnit[kind];
            for (var unit = first + 1; unit < firstUnit[kind + 1]; unit++)
                if (unitFreeFrom[unit] < unitFreeFrom[first]) first = unit;
            // A demand above the capacity takes all units, as in the whole simulation.
            if (first >= firstUnit[kind + 1] || units.AsSpan(0, unitCount).Contains(first)) return;
            unitFreeFrom[first] = until;
            units[unitCount++] = first;
        }
    }

    private void Occupy(CompactActivity activity, int step, ReadOnlySpan<byte> people)
    {
        var end = ends[step];
        foreach (var person in people) end.CopyTo(personFree[person]);
        for (var unit = 0; unit < unitCount; unit++) end.CopyTo(unitFree[units[unit]]);
        ScenarioTimes.Raise(nightEnd[0], end);
        if (activity.CleanDownNight < 0 && !activity.IsFinal) ScenarioTimes.Raise(zoneEnds[activity.Zone], end);
        if (activity.ZoneClosedMinutes > 0) ScenarioTimes.Raise(zoneClosed[activity.Zone], end, activity.ZoneClosedMinutes);
    }

    private void Wait(ScenarioTimes times, int row, float lag = 0) => ScenarioTimes.Raise(start[0], times[row], lag);

    /// <summary>Records by how much the times exceed a limit.</summary>
    private void Exceed(ReadOnlySpan<Vector<float>> times, float limit) => ScenarioTimes.Raise(excess[0], times, -limit);
}
