using SetWeek.Model.Problems;
using SetWeek.Planning.Risk.Distributions;

namespace SetWeek.Planning.Risk.Simulation;

/// <summary>What all runs came to: times run by run, and counts.</summary>
internal sealed class Runs
{
    private readonly WorkOrder order;
    private readonly Lock counting = new();

    private Runs(WorkOrder order, int count)
    {
        this.order = order;
        Count = count;
        Finish = new float[count];
        var nights = order.Problem.Nights.Count;
        NightEnds = [.. Enumerable.Range(0, nights).Select(_ => new float[count])];
        Overtime = [.. Enumerable.Range(0, nights).Select(_ => new float[count])];
        Dues = [.. order.Problem.Activities.Where(task => task.Due < Problem.Never && order.LastPieceOf(task) is not null)];
        DueEnds = [.. Dues.Select(_ => new float[count])];
        Secured = new bool[count];
        PutOff = new int[count];
        Tallies = new Tallies(order.Problem.Activities.Count);
    }

    public int Count { get; }

    /// <summary>Minute by run; <see cref="Lanes.Never"/> where something is not done.</summary>
    public float[] Finish { get; }

    /// <summary>By night, then by run: the end of its last work; <see cref="Lanes.None"/> where it has none.</summary>
    public float[][] NightEnds { get; }

    /// <summary>By night, then by run: minutes times people past planned shift ends.</summary>
    public float[][] Overtime { get; }

    /// <summary>Planned tasks with a due night.</summary>
    public IReadOnlyList<Activity> Dues { get; }

    public float[][] DueEnds { get; }
    public bool[] Secured { get; }

    /// <summary>By run: stints put off to a later night, or to none.</summary>
    public int[] PutOff { get; }

    public Tallies Tallies { get; }

    /// <summary>Blocks of runs on as many threads as asked; who works which block makes no difference.</summary>
    public static Runs Of(WorkOrder order, RiskOptions options, CancellationToken stop = default)
    {
        var runs = new Runs(order, options.Runs);
        var blocks = (options.Runs + Lanes.Count - 1) / Lanes.Count;
        Threads.Share(blocks, options.Workers, stop, mine =>
        {
            var (run, tallies) = (new BlockRun(order), new Tallies(order.Problem.Activities.Count));
            foreach (var block in mine) runs.Read(run.Work(block * Lanes.Count), tallies, block * Lanes.Count);
            lock (runs.counting) runs.Tallies.Add(tallies);
        });
        return runs;
    }

    private void Read(Slate slate, Tallies tallies, int first)
    {
        var count = Math.Min(Lanes.Count, Count - first);
        slate.All.Times(0)[..count].CopyTo(Finish.AsSpan(first));
        for (var night = 0; night < NightEnds.Length; night++)
        {
            slate.NightEnds.Times(night)[..count].CopyTo(NightEnds[night].AsSpan(first));
            ReadOvertime(slate, night, Overtime[night].AsSpan(first, count));
        }
        for (var due = 0; due < Dues.Count; due++)
            slate.Ends.Times(order.LastPieceOf(Dues[due])!.Value)[..count].CopyTo(DueEnds[due].AsSpan(first));
        for (var lane = 0; lane < count; lane++)
        {
            Secured[first + lane] = (slate.Unsecured >> lane & 1) == 0;
            PutOff[first + lane] = tallies.Count(order, slate, lane);
        }
    }

    private void ReadOvertime(Slate slate, int night, Span<float> minutes)
    {
        for (var person = 0; person < order.Problem.Crew.Count; person++)
        {
            if (order.Room.ShiftOf(person, night) is not { } shift) continue;
            var free = slate.People.Times(slate.PersonRow(person, night));
            var last = slate.NightEnds.Times(night);
            var closes = order.Room.Keyholders[night] == person;
            for (var lane = 0; lane < minutes.Length; lane++)
            {
                var leaves = closes ? Math.Max(free[lane], last[lane] + order.Room.Closing) : free[lane];
                minutes[lane] += Math.Max(0, leaves - shift.To);
            }
        }
    }
}
