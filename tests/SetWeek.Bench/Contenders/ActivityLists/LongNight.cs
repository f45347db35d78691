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
internal sealed class LongNight
{
    /// <summary>
    /// The highest bit of each kind's sixteen: what is free less what is wanted leaves it where there is enough.
    /// </summary>
    public const ulong Guards = 0x8000_8000_8000_8000;

    private const int Kinds = 4, Bits = 16;

    private readonly Problem problem;
    private readonly int[] personAt;

    private LongNight(Problem problem)
    {
        this.problem = problem;
        var grid = problem.Grid.Minutes;
        Words = Math.Max(1, (problem.EquipmentCounts.Count + Kinds - 1) / Kinds);
        Capacity = Packed(problem.EquipmentCounts.Select((count, kind) => new Pieces(kind, count)));
        personAt = [.. problem.Crew.Select(person => person.Index).OrderBy(Worth).ThenBy(person => person)];
        Ways = [.. problem.Stints.Select(stint => stint.Task.Ways.Select((way, mode) => new Doing(
            mode, way.Minutes / grid, Packed(way.Equipment),
            [.. way.Posts.SelectMany(post => Enumerable.Repeat(Able(post, stint.Task), post.People))
                .OrderBy(BitOperations.PopCount)])).ToArray())];
        Earliest = [.. problem.Stints.Select(stint => (Math.Max(0, stint.Task.KitsIn) + grid - 1) / grid)];
        var edges = Edge.Of(problem).Select(edge => (edge.From, edge.To, Lag: (edge.Lag + grid - 1) / grid)).ToArray();
        Before = [.. problem.Stints
            .Select(stint => edges.Where(edge => edge.To == stint.Index).Select(edge => new Tie(edge.From, edge.Lag)).ToArray())];
        After = [.. problem.Stints
            .Select(stint => edges.Where(edge => edge.From == stint.Index).Select(edge => new Tie(edge.To, edge.Lag)).ToArray())];
        Horizon = 1 + Earliest.Max() + Ways.Sum(ways => ways.Max(way => way.Slots)) + edges.Sum(edge => edge.Lag);
    }

    /// <param name="Mode">Index among the task's ways.</param>
    /// <param name="Slots">How long it lasts.</param>
    /// <param name="Needs">By word: equipment, packed.</param>
    /// <param name="Seats">For each of its people, who could be that: scarcest first.</param>
    internal sealed record Doing(int Mode, int Slots, ulong[] Needs, ulong[] Seats)
    {
        public ulong Able { get; } = Seats.Aggregate(0UL, (all, seat) => all | seat);
    }

    public int Count => Ways.Length;
    public int Words { get; }
    public ulong[] Capacity { get; }

    /// <summary>By job.</summary>
    public Doing[][] Ways { get; }

    public int[] Earliest { get; }
    public Tie[][] Before { get; }
    public Tie[][] After { get; }

    /// <summary>Slots into which everything fits, one after the other.</summary>
    public int Horizon { get; }

    public static LongNight? Of(Problem problem) => Suits(problem) ? new LongNight(problem) : null;

    public static bool Suits(Problem problem) =>
        problem is { Nights: [var night], Goals: [{ Goal: "finish" }], Facts: null, LastActivity: null, Crew.Count: <= 64 }
        && night.Bans.Count == 0 && problem.Launch >= night.Closes && problem.Grid.Up(night.Opens) == night.Opens
        && problem.Crew.All(person => WholeNight.Of(problem, person, 0) is not null)
        && problem.Zones.All(zone => zone.CleanDown is null && zone.MaxPeople >= problem.Crew.Count)
        && problem.Displays.All(display => display.Must && display.Alternate is null)
        && problem.Activities.All(task => task is { ClosesZone: 0, Due: Problem.Never } && task.KitsIn < night.Closes)
        && problem.Activities
            .All(task => task.Ways.All(way => way.Equipment.All(use => use.Count <= problem.EquipmentCounts[use.Equipment])))
        && problem.EquipmentCounts.All(count => count <= short.MaxValue);

    /// <summary>By job: its latest start, in slots before the end of a critical path that ends at 0.</summary>
    public int[] LatestStarts()
    {
        var latest = Ways.Select(ways => -ways.Min(way => way.Slots)).ToArray();
        for (var changed = true; changed;)
        {
            changed = false;
            for (var job = 0; job < Count; job++)
                foreach (var tie in After[job])
                {
                    var start = latest[tie.Job] - tie.Lag - Ways[job].Min(way => way.Slots);
                    if (start >= latest[job]) continue;
                    (latest[job], changed) = (start, true);
                }
        }
        return latest;
    }

    /// <summary>The plan, everybody there all night.</summary>
    /// <param name="starts">By job: slot.</param>
    /// <param name="ways">By job: which of its ways.</param>
    /// <param name="hands">By job: a person, as a bit, for each seat.</param>
    public Schedule ScheduleOf(int[] starts, int[] ways, ulong[][] hands)
    {
        var grid = problem.Grid.Minutes;
        return new Schedule
        {
            Keyholders = [null],
            Shifts = [.. problem.Crew.Select(person => WholeNight.Of(problem, person, 0)!)],
            Work = [.. problem.Stints.Select(stint =>
            {
                var way = Ways[stint.Index][ways[stint.Index]];
                var from = problem.Nights[0].Opens + starts[stint.Index] * grid;
                int[] people = [.. hands[stint.Index].Take(way.Seats.Length)
                    .Select(bit => personAt[BitOperations.TrailingZeroCount(bit)])];
                return new Work(0, stint.Index, way.Mode, stint.Task.Zone, from, from + way.Slots * grid,
                    new SetWeek.Planning.Exact.Variables.Crewing(problem, stint.Task.Ways[way.Mode]).HandsOf(people));
            })],
        };
    }

    /// <summary>
    /// How much of the work would be theirs if all who can do it shared it: the least wanted are taken first, and have the
    /// lowest bits.
    /// </summary>
    private double Worth(int person) => problem.Activities.Sum(task => task.Ways[0].Posts
        .Where(problem.Crew[person].Has)
        .Sum(post => (double)task.Ways[0].Minutes * post.People / problem.Crew.Count(other => other.Has(post))));

    private ulong Able(Post post, Activity task)
    {
        var people = StartRooms.Able(problem, post, task);
        return personAt.Select((person, bit) => (people >> person & 1) << bit).Aggregate(0UL, (all, bit) => all | bit);
    }

    private ulong[] Packed(IEnumerable<Pieces> pieces)
    {
        var packed = new ulong[Words];
        foreach (var (kind, count) in pieces) packed[kind / Kinds] += (ulong)count << (kind % Kinds * Bits);
        return packed;
    }
}
