using System.Numerics;
using SetWeek.Model.Durations;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Simulation;
using SetWeek.Model.Time;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;

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
    private readonly int grace, closing, opening, width;
    private readonly int[] firstUnit, zonePlaces, unitFreeFrom;
    private readonly int[] steps, stepFrom, rowOf, departures, breakTo;
    private readonly Vector<float>[] personFree, ends, zoneEnds, zoneClosed, unitFree, nightEnd, start, excess;
    private readonly int[] units;
    private int stepCount, unitCount;

    public NightScenarios(CompactProblem compact, DurationScenarios durations)
    {
        (this.compact, this.durations, problem) = (compact, durations, compact.Problem);
        grace = problem.Week.Hold.GraceMinutes;
        (closing, opening) = problem.Rules.KeyholderPresent
            ? (problem.Rules.ClosingMinutes ?? 0, problem.Rules.OpeningMinutes ?? 0) : (0, 0);
        width = durations.Lanes / Vector<float>.Count;
        var resources = new RenewableResources(problem);
        var capacities = resources.Capacities;
        zonePlaces = [.. problem.Zones.Select(zone => resources.PlacesOf(zone.Index))];
        firstUnit = new int[capacities.Count + 1];
        for (var kind = 0; kind < capacities.Count; kind++) firstUnit[kind + 1] = firstUnit[kind] + capacities[kind];
        unitFreeFrom = new int[firstUnit[^1]];
        units = new int[unitFreeFrom.Length];
        var most = compact.Activities.Length + compact.People;
        (steps, stepFrom) = (new int[most], new int[most]);
        rowOf = new int[compact.Activities.Length];
        (departures, breakTo) = (new int[compact.People], new int[compact.People]);
        personFree = Rows(compact.People);
        ends = Rows(most);
        (zoneEnds, zoneClosed) = (Rows(compact.Zones), Rows(compact.Zones));
        unitFree = Rows(unitFreeFrom.Length);
        (nightEnd, start, excess) = (Rows(1), Rows(1), Rows(1));
    }

    private Vector<float>[] Rows(int count) => new Vector<float>[count * width];

    /// <summary>
    /// Collects the night's work and breaks in their order, and returns a hash of all that the result depends on. Equal hashes
    /// are taken for equal nights. They have 64 bits, so a collision is far rarer than the noise of the sample.
    /// </summary>
    public ulong Prepare(PartialSchedule schedule, int night)
    {
        stepCount = 0;
        var hash = SplitMix64.Mix((ulong)night);
        for (var activity = 0; activity < compact.Activities.Length; activity++)
        {
            if (schedule.Night[activity] != night) continue;
            hash = SplitMix64.Mix(hash ^ (ulong)activity << 40 ^ (ulong)(uint)schedule.StartMinute[activity] << 4
                ^ (uint)(schedule.Mode[activity] + 1));
            var people = 0UL;
            foreach (var person in schedule.PeopleOf(activity)) people |= 1UL << person;
            hash = SplitMix64.Mix(hash ^ people);
            foreach (var precedence in compact.Activities[activity].Predecessors)
                if (schedule.Night[precedence.Activity] is >= 0 and var other && other != night)
                    hash = SplitMix64.Mix(hash ^ (uint)schedule.EndMinute[precedence.Activity]);
            AddStep(activity, schedule.StartMinute[activity]);
        }
        for (var person = 0; person < compact.People; person++)
        {
            departures[person] = problem.Nights[night].Closes;
            var at = person * compact.Nights + night;
            if (schedule.ShiftFrom[at] < 0) continue;
            var shift = ScheduleCompletion.ShiftOf(compact, schedule, person, night);
            breakTo[person] = shift.Break?.To ?? -1;
            departures[person] = NightLimits.LatestDeparture(
                problem, person, night, shift.Span, shift.Break?.To, NextShiftFrom(schedule, person, night));
            hash = SplitMix64.Mix(hash ^ (ulong)person << 56 ^ (ulong)(uint)shift.From << 36
                ^ (ulong)(uint)departures[person] << 16 ^ (uint)(shift.Break is { } rest ? rest.From - shift.From + 1 : 0));
            if (shift.Break is { } taken) AddStep(-1 - person, taken.From);
        }
        return SplitMix64.Mix(hash ^ (uint)(schedule.Keyholder[night] + 1));
    }

    /// <summary>Writes the set of scenarios in which the prepared night stands as it is, a bit each.</summary>
    public void Evaluate(PartialSchedule schedule, int night, Span<ulong> held)
    {
        var latestEnd = LatestEnd(schedule, night);
        Reset(schedule, night);
        for (var step = 0; step < stepCount; step++)
            if (steps[step] < 0) TakeBreak(-1 - steps[step], stepFrom[step], step);
            else Work(schedule, night, steps[step], step, latestEnd);
        var closes = problem.Nights[night].Closes;
        // The closing may run over by the grace. The launch is met with the closing left out.
        var launch = problem.Grid.MinuteOf(problem.Week.Launch);
        Exceed(nightEnd, 0, Math.Min(closes + grace - closing, problem.HasPassed(launch) ? Problem.Never : launch));
        held.Clear();
        for (var lane = 0; lane < durations.Count; lane++)
            if (excess[lane / Vector<float>.Count][lane % Vector<float>.Count] <= 0) held[lane >> 6] |= 1UL << lane;
    }

    /// <summary>Insertion sort by planned start: a night has few steps.</summary>
    private void AddStep(int step, int from)
    {
        var at = stepCount++;
        for (; at > 0 && (stepFrom[at - 1] > from || (stepFrom[at - 1] == from && ComesAfter(steps[at - 1], step))); at--)
            (steps[at], stepFrom[at]) = (steps[at - 1], stepFrom[at - 1]);
        (steps[at], stepFrom[at]) = (step, from);
    }

    /// <summary>The final floor clean comes last of those that start together.</summary>
    private bool ComesAfter(int step, int other) => step >= 0 && compact.Activities[step].IsFinal
        && (other < 0 || !compact.Activities[other].IsFinal);

    private int NextShiftFrom(PartialSchedule schedule, int person, int night)
    {
        for (var later = night + 1; later < compact.Nights; later++)
            if (schedule.ShiftFrom[person * compact.Nights + later] is >= 0 and var slot) return compact.MinuteAt(later, slot);
        return Problem.Never;
    }

    /// <summary>Latest end of work that keeps all rules: the keyholder closes, and the least number of people stay.</summary>
    private int LatestEnd(PartialSchedule schedule, int night)
    {
        var end = problem.Nights[night].Closes;
        if (schedule.Keyholder[night] is >= 0 and var keyholder) end = Math.Min(end, departures[keyholder]);
        if (compact.MinPeople > 0)
        {
            Span<int> stays = stackalloc int[compact.People];
            var count = 0;
            for (var person = 0; person < compact.People; person++)
                if (schedule.ShiftFrom[person * compact.Nights + night] >= 0) stays[count++] = -departures[person];
            stays[..count].Sort();
            if (count >= compact.MinPeople) end = Math.Min(end, -stays[compact.MinPeople - 1]);
        }
        return end - closing;
    }

    private void Reset(PartialSchedule schedule, int night)
    {
        var none = new Vector<float>(Lanes.None);
        Array.Fill(zoneEnds, none);
        Array.Fill(zoneClosed, none);
        Array.Fill(unitFree, none);
        Array.Fill(nightEnd, none);
        Array.Fill(excess, none);
        Array.Fill(unitFreeFrom, int.MinValue);
        for (var person = 0; person < compact.People; person++)
            if (schedule.ShiftFrom[person * compact.Nights + night] is >= 0 and var slot)
                personFree.AsSpan(person * width, width).Fill(new Vector<float>(compact.MinuteAt(night, slot)));
    }

    private void TakeBreak(int person, int from, int step)
    {
        Array.Fill(start, new Vector<float>(from));
        Wait(personFree, person);
        Finish(step, new Vector<float>(breakTo[person] - from));
        Row(ends, step).CopyTo(Row(personFree, person));
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
        Array.Fill(start, new Vector<float>(release));
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
            Finish(step, new Vector<float>(CleanDownMinutes(activity)));
        else
        {
            var mode = activity.HasBegun ? 0 : activity.Modes[schedule.Mode[index]].ModeIndex;
            if (!activity.HasBegun) KeepLimits(activity, night, durations.MostLikelyOf(index, mode), people, latestEnd);
            Finish(step, durations.MinutesOf(index, mode));
            var task = problem.Stints[index].Task;
            if (task.LastStint == index && problem.BindingDue(task) is var due && due < Problem.Never) Exceed(ends, step, due);
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
            if (problem.Tasks[activity.Task].Traits.Contains(ban.Trait)) DelayPast(ban.Span, likely - grace);
        var tail = activity.SameNightTail * compact.SlotMinutes
            + (activity.NeedsCleanDown ? CleanDownMinutes(activity) + activity.ZoneClosedMinutes : 0);
        float limit = latestEnd + grace - tail;
        foreach (var person in people)
            limit = Math.Min(limit, departures[person] + (problem.Crew[person].Under18 ? 0 : grace));
        limit -= likely;
        // What secures work begun in the same night is done however late it starts in the night.
        if (activity.SameNightGroup.Length > 1 && activity.SameNightGroup[0] != activity.Index)
            limit = Math.Max(limit, problem.Nights[night].Closes);
        Exceed(start, 0, limit);
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
        var end = Row(ends, step);
        foreach (var person in people) end.CopyTo(Row(personFree, person));
        for (var unit = 0; unit < unitCount; unit++) end.CopyTo(Row(unitFree, units[unit]));
        Raise(nightEnd, 0, end, 0);
        if (activity.CleanDownNight < 0 && !activity.IsFinal) Raise(zoneEnds, activity.Zone, end, 0);
        if (activity.ZoneClosedMinutes > 0) Raise(zoneClosed, activity.Zone, end, activity.ZoneClosedMinutes);
    }

    private Span<Vector<float>> Row(Vector<float>[] rows, int row) => rows.AsSpan(row * width, width);

    /// <summary>Delays the start to the times of a row plus a lag.</summary>
    private void Wait(Vector<float>[] rows, int row, float lag = 0)
    {
        var until = Row(rows, row);
        var lags = new Vector<float>(lag);
        for (var at = 0; at < start.Length; at++) start[at] = Vector.Max(start[at], until[at] + lags);
    }

    private void DelayPast(Span ban, float minutes)
    {
        var (from, to, length) = (new Vector<float>(ban.From), new Vector<float>(ban.To), new Vector<float>(minutes));
        for (var at = 0; at < start.Length; at++)
        {
            var overlaps = Vector.LessThan(start[at], to) & Vector.GreaterThan(start[at] + length, from);
            start[at] = Vector.ConditionalSelect(overlaps, to, start[at]);
        }
    }

    private void Finish(int step, Vector<float> minutes)
    {
        var end = Row(ends, step);
        for (var at = 0; at < start.Length; at++) end[at] = start[at] + minutes;
    }

    private void Finish(int step, ReadOnlySpan<float> minutes)
    {
        var end = Row(ends, step);
        for (var at = 0; at < start.Length; at++)
            end[at] = start[at] + new Vector<float>(minutes.Slice(at * Vector<float>.Count, Vector<float>.Count));
    }

    private void Raise(Vector<float>[] rows, int row, ReadOnlySpan<Vector<float>> times, float lag)
    {
        var raised = Row(rows, row);
        var lags = new Vector<float>(lag);
        for (var at = 0; at < raised.Length; at++) raised[at] = Vector.Max(raised[at], times[at] + lags);
    }

    /// <summary>Records by how much the times of a row exceed a limit.</summary>
    private void Exceed(Vector<float>[] rows, int row, float limit)
    {
        var times = Row(rows, row);
        var limits = new Vector<float>(limit);
        for (var at = 0; at < excess.Length; at++) excess[at] = Vector.Max(excess[at], times[at] - limits);
    }
}
