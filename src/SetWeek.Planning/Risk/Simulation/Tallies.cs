namespace SetWeek.Planning.Risk.Simulation;

/// <summary>In how many runs each task was what a finish waited for, and was put off.</summary>
internal sealed class Tallies(int tasks)
{
    // A task of several stints is on a chain once, however many of them are: a stamp says for which run it was counted.
    private readonly long[] onFinish = new long[tasks], onNight = new long[tasks], late = new long[tasks];
    private long stamp;

    public int[] Critical { get; } = new int[tasks];

    public int[] NightCritical { get; } = new int[tasks];

    public int[] PutOff { get; } = new int[tasks];

    /// <summary>Counts a run; the answer is how many of its stints were put off.</summary>
    public int Count(WorkOrder order, Slate slate, int lane)
    {
        var stints = 0;
        stamp++;
        Follow(order, slate, lane, slate.All.Pieces(0)[lane], onFinish, Critical);
        for (var night = 0; night < order.Problem.Nights.Count; night++)
            Follow(order, slate, lane, slate.NightEnds.Pieces(night)[lane], onNight, NightCritical);
        for (var index = 0; index < order.Pieces.Count; index++)
        {
            var piece = order.Pieces[index];
            if (piece.Kind != PieceKind.Stint || slate.Nights[index * Lanes.Count + lane] == piece.Night) continue;
            stints++;
            Once(piece.Task, late, PutOff);
        }
        return stints;
    }

    public void Add(Tallies other)
    {
        for (var task = 0; task < tasks; task++)
        {
            Critical[task] += other.Critical[task];
            NightCritical[task] += other.NightCritical[task];
            PutOff[task] += other.PutOff[task];
        }
    }

    /// <summary>Back from an end along what each piece waited for.</summary>
    private void Follow(WorkOrder order, Slate slate, int lane, int piece, long[] counted, int[] counts)
    {
        for (; piece != Lanes.Nobody; piece = slate.Ends.Pieces(piece)[lane])
            if (order.Pieces[piece].Task is >= 0 and var task) Once(task, counted, counts);
    }

    private void Once(int task, long[] counted, int[] counts)
    {
        if (counted[task] == stamp) return;
        counted[task] = stamp;
        counts[task]++;
    }
}
