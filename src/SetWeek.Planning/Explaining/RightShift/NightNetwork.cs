using SetWeek.Model.Problems;
using SetWeek.Model.Rules.Definition;
using SetWeek.Model.Simulation;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Explaining.RightShift;

/// <summary>
/// The partial-order schedule of one night: its work and breaks with the time lags between them, and a deadline for each. People,
/// and the order of work in each resource, stay as planned; every start may move later. Equipment and places in a zone are
/// chained unit by unit, so any starts that keep the lags keep the capacities (Policella, Smith, Cesta, Oddi, "Generating robust
/// schedules through temporal flexibility", 2004; from memory). Company is not modelled: the check of the plan decides it.
/// </summary>
internal sealed class NightNetwork
{
    private readonly Problem problem;
    private readonly Schedule schedule;
    private readonly int night;
    private readonly List<Node> nodes = [];
    private readonly List<Arc> arcs = [];
    private readonly Dictionary<ScheduledWork, int> nodeOf = new(ReferenceEqualityComparer.Instance);
    private readonly int[] latest;

    public NightNetwork(Problem problem, Schedule schedule, int night)
    {
        (this.problem, this.schedule, this.night) = (problem, schedule, night);
        Work = [.. schedule.Work.Where(work => work.Night == night).OrderBy(work => work.From).ThenBy(work => work.To)];
        foreach (var work in Work)
        {
            nodeOf[work] = nodes.Count;
            nodes.Add(NodeOf(work));
        }
        var shifts = schedule.Shifts.Where(shift => shift.Night == night).ToArray();
        foreach (var shift in shifts)
            if (shift.Break is { } rest) nodes.Add(NodeOf(shift, rest));
        foreach (var shift in shifts) OrderPerson(shift.Person);
        OrderStints();
        OrderZones();
        OrderLast();
        ChainResources();
        latest = BackwardPass();
    }

    /// <summary>The stints and clean-downs of the night, by start.</summary>
    public IReadOnlyList<ScheduledWork> Work { get; }

    /// <summary>The latest start at which all that follows the work meets its deadline; never before the planned start.</summary>
    public int LatestStart(ScheduledWork work) => latest[nodeOf[work]];

    /// <summary>
    /// The schedule in which one piece of work starts at the given minute, and all that waits for it moves as little as the lags
    /// ask for. Work of other nights stays.
    /// </summary>
    public Schedule Shifted(ScheduledWork delayed, int start)
    {
        var starts = nodes.Select(node => node.From).ToArray();
        starts[nodeOf[delayed]] = start;
        for (var (moved, round) = (true, 0); moved && round <= nodes.Count; round++)
        {
            moved = false;
            foreach (var arc in arcs)
            {
                var earliest = starts[arc.From] + nodes[arc.From].Minutes + arc.Lag;
                if (earliest <= starts[arc.To]) continue;
                starts[arc.To] = problem.NextSlot(night, earliest);
                moved = true;
            }
        }
        var rests = new Dictionary<ScheduledShift, Span>(ReferenceEqualityComparer.Instance);
        for (var node = 0; node < nodes.Count; node++)
            if (nodes[node].Shift is { } shift) rests[shift] = new Span(starts[node], starts[node] + nodes[node].Minutes);
        return schedule with
        {
            Work = [.. schedule.Work.Select(work => nodeOf.TryGetValue(work, out var node)
                ? work with { From = starts[node], To = starts[node] + nodes[node].Minutes } : work)],
            Shifts = [.. schedule.Shifts.Select(shift => rests.TryGetValue(shift, out var rest)
                ? shift with { Break = rest } : shift)],
        };
    }

    private Node NodeOf(ScheduledWork work)
    {
        var people = work.Assignments.Select(assignment => assignment.Person).ToArray();
        if (problem.HasBegun(work) || IsPinned(work)) return new Node(work.From, work.To, work.To, people, null);
        var task = work.Stint is { } stint ? problem.Stints[stint].Task : null;
        var deadline = Math.Min(problem.Nights[night].Closes, problem.BindingLaunch(task));
        if (problem.Rules is { KeyholderPresent: true, ClosingMinutes: { } closing }
            && schedule.Keyholders[night] is { } keyholder && ShiftOf(keyholder) is { } last)
            deadline = Math.Min(deadline, last.To - closing);
        foreach (var person in people)
            if (ShiftOf(person) is { } shift) deadline = Math.Min(deadline, shift.To);
        if (task is not null)
        {
            if (problem.Stints[work.Stint!.Value].IsLast) deadline = Math.Min(deadline, problem.BindingDue(task));
            // Work that is planned before a ban stays before it. After the ban it may fit too, so this bound is only safe.
            foreach (var ban in problem.Nights[night].Bans)
                if (task.Traits.Contains(ban.Trait) && work.To <= ban.Span.From) deadline = Math.Min(deadline, ban.Span.From);
        }
        return new Node(work.From, work.To, Math.Max(work.To, deadline), people, null);
    }

    private Node NodeOf(ScheduledShift shift, Span rest)
    {
        var person = problem.Crew[shift.Person];
        if (problem.HasBegun(rest) || problem.HasEnded(shift))
            return new Node(rest.From, rest.To, rest.To, [shift.Person], shift);
        // The closing is the keyholder's last piece of work if there is another, such as the opening.
        var closing = problem.Rules.KeyholderPresent && schedule.Keyholders[night] == shift.Person
            && (problem.Rules.OpeningMinutes is > 0 || Work.Any(work => nodes[nodeOf[work]].People.Contains(shift.Person)))
            ? problem.Rules.ClosingMinutes ?? 0 : 0;
        var deadline = Math.Min(shift.To - Math.Max(person.BreakClear, closing),
            Math.Min(shift.From + person.BreakAfter, Problem.Never) + rest.Minutes);
        return new Node(rest.From, rest.To, Math.Max(rest.To, deadline), [shift.Person], shift);
    }

    private bool IsPinned(ScheduledWork work) =>
        work.Stint is { } stint && problem.Pins.Stints.Any(pin => pin.Stint == stint && pin.From is not null);

    private ScheduledShift? ShiftOf(int person) =>
        schedule.Shifts.FirstOrDefault(shift => shift.Night == night && shift.Person == person);

    /// <summary>A person does their work and their break in the planned order.</summary>
    private void OrderPerson(int person)
    {
        var own = Enumerable.Range(0, nodes.Count).Where(node => nodes[node].People.Contains(person))
            .OrderBy(node => nodes[node].From).ToArray();
        foreach (var (before, after) in own.Zip(own.Skip(1))) Order(before, after, 0);
    }

    /// <summary>
    /// Stints of a task in order, and the precedences with their lags. Work of a later night stays where it is, so it is a
    /// deadline.
    /// </summary>
    private void OrderStints()
    {
        var byStint = schedule.WorkByStint(problem);
        foreach (var work in byStint.OfType<ScheduledWork>())
        {
            var stint = problem.Stints[work.Stint!.Value];
            if (stint.Number > 1 && byStint[stint.Index - 1] is { } before) Order(before, work, 0);
            foreach (var precedence in stint.Task.Precedences)
                if (byStint[problem.Tasks[precedence.Predecessor].LastStint] is { } predecessor)
                    Order(predecessor, work, precedence.LagMinutes);
        }
    }

    /// <summary>The clean-down comes after the zone's work, and no work moves into the time for which a zone is closed.</summary>
    private void OrderZones()
    {
        foreach (var down in Work.Where(work => work.IsCleanDown))
            foreach (var work in Work)
                if (work.Zone == down.Zone && work.Stint is { } stint && !problem.Stints[stint].Task.IsLastTask)
                    Order(work, down, 0);
        foreach (var closing in schedule.Work)
        {
            if (closing.Stint is not { } index
                || problem.Stints[index] is not { IsLast: true, Task.ClosesZoneMinutes: > 0 } stint) continue;
            foreach (var other in schedule.Work)
            {
                if (other.Zone != closing.Zone
                    || (other.Stint is { } own && problem.Stints[own].Task.Index == stint.Task.Index)) continue;
                Order(closing, other, stint.Task.ClosesZoneMinutes);
                // Work planned to end no later than the closing task still does: a lag from end to end.
                if (nodeOf.ContainsKey(closing) && nodeOf.ContainsKey(other) && other.To <= closing.To)
                    Order(other, closing, closing.From - closing.To);
            }
        }
    }

    /// <summary>The last task starts after all other work of the week.</summary>
    private void OrderLast()
    {
        if (problem.LastTask is not { } last || schedule.WorkByStint(problem)[last.FirstStint] is not { } first) return;
        foreach (var work in Work)
            if (!(work.Stint is { } stint && problem.Stints[stint].Task.Index == last.Index)) Order(work, first, 0);
    }

    /// <summary>Gives each demand units of its resource, first those free longest, and orders their users.</summary>
    private void ChainResources()
    {
        var resources = new RenewableResources(problem);
        var units = resources.Capacities.Select(capacity => Enumerable.Repeat(-1, capacity).ToArray()).ToArray();
        foreach (var work in Work)
        {
            if (problem.ModeOf(work) is not { } mode) continue;
            var node = nodeOf[work];
            foreach (var demand in resources.DemandsOf(mode, work.Zone))
            {
                var own = units[demand.Resource];
                var free = Enumerable.Range(0, own.Length).Where(unit => own[unit] < 0 || nodes[own[unit]].To <= work.From)
                    .OrderBy(unit => own[unit] < 0 ? int.MinValue : nodes[own[unit]].To).Take(demand.Count).ToArray();
                foreach (var unit in free)
                {
                    if (own[unit] >= 0) Order(own[unit], node, 0);
                    own[unit] = node;
                }
            }
        }
    }

    /// <summary>Orders two pieces of work of the schedule, of which at least one is in the night.</summary>
    private void Order(ScheduledWork before, ScheduledWork after, int lag)
    {
        if (ReferenceEquals(before, after) || !nodeOf.TryGetValue(before, out var first)) return;
        if (nodeOf.TryGetValue(after, out var second)) Order(first, second, lag);
        else if (before.To + lag <= after.From)
            nodes[first] = nodes[first] with { Deadline = Math.Min(nodes[first].Deadline, after.From - lag) };
    }

    /// <summary>An order that the plan itself does not keep is left out: the check tells of it.</summary>
    private void Order(int before, int after, int lag)
    {
        if (nodes[before].To + lag <= nodes[after].From) arcs.Add(new Arc(before, after, lag));
    }

    /// <summary>
    /// The latest start of each node by its deadline and by the latest starts of those that wait for it, on its own grid. Arcs
    /// may have negative lags, so the pass is repeated until nothing changes (label correcting).
    /// </summary>
    private int[] BackwardPass()
    {
        var starts = nodes.Select(node => OnGrid(node, node.Deadline - node.Minutes)).ToArray();
        for (var (moved, round) = (true, 0); moved && round <= nodes.Count; round++)
        {
            moved = false;
            foreach (var arc in arcs)
            {
                var node = nodes[arc.From];
                var bound = OnGrid(node, starts[arc.To] - arc.Lag - node.Minutes);
                if (bound >= starts[arc.From]) continue;
                starts[arc.From] = bound;
                moved = true;
            }
        }
        return starts;
    }

    /// <summary>The last start at or before the minute that is a whole number of slots after the planned one.</summary>
    private int OnGrid(Node node, int minute) =>
        node.From + Math.Max(0, minute - node.From) / problem.Grid.SlotMinutes * problem.Grid.SlotMinutes;

    /// <summary>A piece of work, or the break of a shift.</summary>
    private readonly record struct Node(int From, int To, int Deadline, int[] People, ScheduledShift? Shift)
    {
        public int Minutes => To - From;
    }

    /// <summary>The node To starts at least the lag after the end of the node From. A negative lag lets them overlap.</summary>
    private readonly record struct Arc(int From, int To, int Lag);
}
