using SetWeek.Model.Weeks;
using System.Numerics;
using SetWeek.Model.Problems;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Bench.Contenders.ActivityLists;

/// <summary>
/// A week that is one night with nothing to gain but an early finish, and nothing to mind but order, equipment and people who are
/// there throughout. In slots after the night opens; what is wanted of equipment is packed, four kinds to a word.
/// </summary>
internal sealed class SingleNightProject
{
    /// <summary>
    /// The highest bit of each kind's sixteen: what is free less what is wanted leaves it where there is enough.
    /// </summary>
    public const ulong BorrowGuards = 0x8000_8000_8000_8000;

    private const int KindsPerWord = 4, BitsPerKind = 16;

    private readonly Problem problem;
    private readonly int[] personAt;

    private SingleNightProject(Problem problem)
    {
        this.problem = problem;
        var grid = problem.Grid.SlotMinutes;
        Words = Math.Max(1, (problem.EquipmentCapacities.Count + KindsPerWord - 1) / KindsPerWord);
        Capacity = Packed(problem.EquipmentCapacities.Select((count, kind) => new EquipmentDemand(kind, count)));
        personAt = [.. problem.Crew.Select(person => person.Index).OrderBy(VersatilityOf).ThenBy(person => person)];
        Modes = [.. problem.Stints.Select(stint => stint.Task.Modes.Select((way, mode) => new ProjectMode(
            mode, way.Minutes / grid, Packed(way.Equipment),
            [.. way.RequiredSkills.SelectMany(post => Enumerable.Repeat(EligibleFor(post, stint.Task), post.People))
                .OrderBy(BitOperations.PopCount)])).ToArray())];
        EarliestStarts = [.. problem.Stints.Select(stint => (Math.Max(0, stint.Task.Release) + grid - 1) / grid)];
        var edges = StintPrecedence.AllOf(problem).Select(edge => (edge.Predecessor, edge.Successor, Lag: (edge.Lag + grid - 1) / grid)).ToArray();
        Predecessors = [.. problem.Stints
            .Select(stint => edges.Where(edge => edge.Successor == stint.Index).Select(edge => new CompactPrecedence(edge.Predecessor, edge.Lag)).ToArray())];
        Successors = [.. problem.Stints
            .Select(stint => edges.Where(edge => edge.Predecessor == stint.Index).Select(edge => new CompactPrecedence(edge.Successor, edge.Lag)).ToArray())];
        Horizon = 1 + EarliestStarts.Max() + Modes.Sum(ways => ways.Max(way => way.DurationSlots)) + edges.Sum(edge => edge.Lag);
    }

    /// <param name="ModeIndex">Index among the task's ways.</param>
    /// <param name="DurationSlots">How long it lasts.</param>
    /// <param name="EquipmentNeeds">By word: equipment, packed.</param>
    /// <param name="Requirements">For each of its people, who could be that: scarcest first.</param>
    internal sealed record ProjectMode(int ModeIndex, int DurationSlots, ulong[] EquipmentNeeds, ulong[] Requirements)
    {
        public ulong Eligible { get; } = Requirements.Aggregate(0UL, (all, seat) => all | seat);
    }

    public int Count => Modes.Length;
    public int Words { get; }
    public ulong[] Capacity { get; }

    /// <summary>By job.</summary>
    public ProjectMode[][] Modes { get; }

    public int[] EarliestStarts { get; }
    public CompactPrecedence[][] Predecessors { get; }
    public CompactPrecedence[][] Successors { get; }

    /// <summary>Slots into which everything fits, one after the other.</summary>
    public int Horizon { get; }

    public static SingleNightProject? Of(Problem problem) => IsSuitable(problem) ? new SingleNightProject(problem) : null;

    public static bool IsSuitable(Problem problem) =>
        problem is { Nights: [var night], Goals: [{ Goal: GoalId.Finish }], Facts: null, LastTask: null, Crew.Count: <= 64 }
        && night.Bans.Count == 0 && problem.Launch >= night.Closes && problem.Grid.RoundUp(night.Opens) == night.Opens
        && problem.Crew.All(person => FullNightShift.ShiftOf(problem, person, 0) is not null)
        && problem.Zones.All(zone => zone.CleanDown is null && zone.MaxPeople >= problem.Crew.Count)
        && problem.Displays.All(display => display.Must && display.Alternate is null)
        && problem.Tasks.All(task => task is { ClosesZoneMinutes: 0, Due: Problem.Never } && task.Release < night.Closes)
        && problem.Tasks
            .All(task => task.Modes.All(mode => mode.Equipment.All(use => use.Count <= problem.EquipmentCapacities[use.Equipment])))
        && problem.EquipmentCapacities.All(count => count <= short.MaxValue);

    /// <summary>By job: its latest start, in slots before the end of a critical path that ends at 0.</summary>
    public int[] LatestStarts()
    {
        var latest = Modes.Select(ways => -ways.Min(way => way.DurationSlots)).ToArray();
        for (var changed = true; changed;)
        {
            changed = false;
            for (var activity = 0; activity < Count; activity++)
                foreach (var precedence in Successors[activity])
                {
                    var start = latest[precedence.Activity] - precedence.Lag - Modes[activity].Min(way => way.DurationSlots);
                    if (start >= latest[activity]) continue;
                    (latest[activity], changed) = (start, true);
                }
        }
        return latest;
    }

    /// <summary>The plan, everybody there all night.</summary>
    /// <param name="starts">By job: slot.</param>
    /// <param name="modes">By job: which of its ways.</param>
    /// <param name="assigned">By job: a person, as a bit, for each seat.</param>
    public Schedule ScheduleOf(int[] starts, int[] modes, ulong[][] assigned)
    {
        var grid = problem.Grid.SlotMinutes;
        return new Schedule
        {
            Keyholders = [null],
            Shifts = [.. problem.Crew.Select(person => FullNightShift.ShiftOf(problem, person, 0)!)],
            Work = [.. problem.Stints.Select(stint =>
            {
                var way = Modes[stint.Index][modes[stint.Index]];
                var from = problem.Nights[0].Opens + starts[stint.Index] * grid;
                int[] people = [.. assigned[stint.Index].Take(way.Requirements.Length)
                    .Select(bit => personAt[BitOperations.TrailingZeroCount(bit)])];
                return new ScheduledWork(0, stint.Index, way.ModeIndex, stint.Task.Zone, from, from + way.DurationSlots * grid,
                    new SetWeek.Planning.Exact.Variables.HallConditions(problem, stint.Task.Modes[way.ModeIndex]).AssignmentsOf(people));
            })],
        };
    }

    /// <summary>
    /// How much of the work would be theirs if all who can do it shared it: the least wanted are taken first, and have the
    /// lowest bits.
    /// </summary>
    private double VersatilityOf(int person) => problem.Tasks.Sum(task => task.Modes[0].RequiredSkills
        .Where(problem.Crew[person].Meets)
        .Sum(post => (double)task.Modes[0].Minutes * post.People / problem.Crew.Count(other => other.Meets(post))));

    private ulong EligibleFor(RequiredSkill post, IndexedTask task)
    {
        var people = StartDomains.Eligible(problem, post, task);
        return personAt.Select((person, bit) => (people >> person & 1) << bit).Aggregate(0UL, (all, bit) => all | bit);
    }

    private ulong[] Packed(IEnumerable<EquipmentDemand> pieces)
    {
        var packed = new ulong[Words];
        foreach (var (kind, count) in pieces) packed[kind / KindsPerWord] += (ulong)count << (kind % KindsPerWord * BitsPerKind);
        return packed;
    }
}
