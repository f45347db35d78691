using System.Numerics;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Exact.Variables;

namespace SetWeek.Bench.Contenders.ActivityLists;

/// <summary>
/// A week of one night with the goal "finish" alone and no constraints but precedences, equipment and people who are present all
/// night. Times are slots after the opening. Equipment counts are packed into words, four kinds in each.
/// </summary>
internal sealed class SingleNightProject
{
    /// <summary>
    /// The highest of the 16 bits of each kind. It survives the subtraction of the demand exactly if enough is free.
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
        Modes = [.. problem.Stints.Select(stint => stint.Task.Modes.Select((mode, index) => new ProjectMode(
            index, mode.Minutes / grid, Packed(mode.Equipment),
            [.. mode.RequiredSkills.SelectMany(required => Enumerable.Repeat(EligibleFor(required, stint.Task), required.People))
                .OrderBy(BitOperations.PopCount)])).ToArray())];
        EarliestStarts = [.. problem.Stints.Select(stint => (Math.Max(0, stint.Task.Release) + grid - 1) / grid)];
        var edges = StintPrecedence.AllOf(problem)
            .Select(edge => (edge.Predecessor, edge.Successor, Lag: (edge.Lag + grid - 1) / grid)).ToArray();
        Predecessors = [.. problem.Stints
            .Select(stint => edges.Where(edge => edge.Successor == stint.Index)
                .Select(edge => new CompactPrecedence(edge.Predecessor, edge.Lag)).ToArray())];
        Successors = [.. problem.Stints
            .Select(stint => edges.Where(edge => edge.Predecessor == stint.Index)
                .Select(edge => new CompactPrecedence(edge.Successor, edge.Lag)).ToArray())];
        Horizon = 1 + EarliestStarts.Max() + Modes.Sum(modes => modes.Max(mode => mode.DurationSlots))
            + edges.Sum(edge => edge.Lag);
    }

    /// <param name="ModeIndex">Index of the mode in its task.</param>
    /// <param name="DurationSlots">Duration in slots.</param>
    /// <param name="EquipmentNeeds">Packed equipment demand, by word.</param>
    /// <param name="Requirements">For each required person the eligible people as bits, scarcest first.</param>
    internal sealed record ProjectMode(int ModeIndex, int DurationSlots, ulong[] EquipmentNeeds, ulong[] Requirements)
    {
        public ulong Eligible { get; } = Requirements.Aggregate(0UL, (all, eligible) => all | eligible);
    }

    public int Count => Modes.Length;
    public int Words { get; }
    public ulong[] Capacity { get; }

    /// <summary>The modes of each activity.</summary>
    public ProjectMode[][] Modes { get; }

    public int[] EarliestStarts { get; }
    public CompactPrecedence[][] Predecessors { get; }
    public CompactPrecedence[][] Successors { get; }

    /// <summary>Number of slots that suffices for all activities in sequence.</summary>
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
            .All(task => task.Modes.All(mode => mode.Equipment.All(use =>
                use.Count <= problem.EquipmentCapacities[use.Equipment])))
        && problem.EquipmentCapacities.All(count => count <= short.MaxValue);

    /// <summary>The latest start of each activity in slots, with the end of the critical path at 0.</summary>
    public int[] LatestStarts()
    {
        var latest = Modes.Select(modes => -modes.Min(mode => mode.DurationSlots)).ToArray();
        for (var changed = true; changed;)
        {
            changed = false;
            for (var activity = 0; activity < Count; activity++)
                foreach (var precedence in Successors[activity])
                {
                    var start = latest[precedence.Activity] - precedence.Lag - Modes[activity].Min(mode => mode.DurationSlots);
                    if (start >= latest[activity]) continue;
                    (latest[activity], changed) = (start, true);
                }
        }
        return latest;
    }

    /// <summary>The schedule, with shifts of the whole night for everybody.</summary>
    /// <param name="starts">Start slot of each activity.</param>
    /// <param name="modes">Mode of each activity.</param>
    /// <param name="assigned">For each activity and requirement a person as a bit.</param>
    public Schedule ScheduleOf(int[] starts, int[] modes, ulong[][] assigned)
    {
        var grid = problem.Grid.SlotMinutes;
        return new Schedule
        {
            Keyholders = [null],
            Shifts = [.. problem.Crew.Select(person => FullNightShift.ShiftOf(problem, person, 0)!)],
            Work = [.. problem.Stints.Select(stint =>
            {
                var mode = Modes[stint.Index][modes[stint.Index]];
                var from = problem.Nights[0].Opens + starts[stint.Index] * grid;
                int[] people = [.. assigned[stint.Index].Take(mode.Requirements.Length)
                    .Select(bit => personAt[BitOperations.TrailingZeroCount(bit)])];
                return new ScheduledWork(0, stint.Index, mode.ModeIndex, stint.Task.Zone, from, from + mode.DurationSlots * grid,
                    new HallConditions(problem, stint.Task.Modes[mode.ModeIndex]).AssignmentsOf(people));
            })],
        };
    }

    /// <summary>
    /// The share of the work that falls to a person if all eligible people share it. The least versatile people get the lowest
    /// bits and are assigned first.
    /// </summary>
    private double VersatilityOf(int person) => problem.Tasks.Sum(task => task.Modes[0].RequiredSkills
        .Where(problem.Crew[person].Meets)
        .Sum(required => (double)task.Modes[0].Minutes * required.People / problem.Crew.Count(other => other.Meets(required))));

    private ulong EligibleFor(RequiredSkill required, IndexedTask task)
    {
        var people = StartDomains.Eligible(problem, required, task);
        return personAt.Select((person, bit) => (people >> person & 1) << bit).Aggregate(0UL, (all, bit) => all | bit);
    }

    private ulong[] Packed(IEnumerable<EquipmentDemand> demands)
    {
        var packed = new ulong[Words];
        foreach (var (kind, count) in demands) packed[kind / KindsPerWord] += (ulong)count << (kind % KindsPerWord * BitsPerKind);
        return packed;
    }
}
