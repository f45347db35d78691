namespace SetWeek.Planning.Risk.Simulation;

/// <summary>A time in each lane, and the piece that made it so.</summary>
internal readonly struct Marks(int rows)
{
    private readonly float[] times = new float[rows * Lanes.Count];
    private readonly int[] pieces = new int[rows * Lanes.Count];

    public Span<float> Times(int row) => times.AsSpan(row * Lanes.Count, Lanes.Count);

    public Span<int> Pieces(int row) => pieces.AsSpan(row * Lanes.Count, Lanes.Count);

    public void Clear(float time)
    {
        Array.Fill(times, time);
        Array.Fill(pieces, Lanes.Nobody);
    }

    public void Put(int row, int lane, float time, int piece)
    {
        times[row * Lanes.Count + lane] = time;
        pieces[row * Lanes.Count + lane] = piece;
    }

    public void Raise(int row, int lane, float time, int piece)
    {
        if (time > times[row * Lanes.Count + lane]) Put(row, lane, time, piece);
    }
}

/// <summary>Where the runs of a block stand: who is free when, what has ended when. Used again for block after block.</summary>
internal sealed class Slate
{
    private readonly WorkOrder order;
    private readonly int nights;
    private readonly int[] firstUnit;

    public Slate(WorkOrder order)
    {
        this.order = order;
        nights = order.Problem.Nights.Count;
        firstUnit = new int[order.Pools.Sizes.Count];
        var units = 0;
        for (var pool = 0; pool < firstUnit.Length; pool++)
        {
            firstUnit[pool] = units;
            units += order.Pools.Sizes[pool] * nights;
        }
        Ends = new Marks(order.Pieces.Count);
        Nights = new int[order.Pieces.Count * Lanes.Count];
        Minutes = new float[order.Pieces.Count * Lanes.Count];
        Waiting = new ulong[order.Pieces.Count];
        People = new Marks(order.Problem.Crew.Count * nights);
        Units = new Marks(units);
        Zones = new Marks(order.Problem.Zones.Count * nights);
        NightEnds = new Marks(nights);
        All = new Marks(1);
    }

    /// <summary>By piece: its end, and the piece that it waited for.</summary>
    public Marks Ends { get; }

    /// <summary>By piece and lane: the night in which it is done; -1: in none.</summary>
    public int[] Nights { get; }

    /// <summary>By piece and lane: how long it takes.</summary>
    public float[] Minutes { get; }

    /// <summary>By piece: the lanes in which it is put off and has not been done yet.</summary>
    public ulong[] Waiting { get; }

    /// <summary>By person and night: from when they are free, and after what.</summary>
    public Marks People { get; }

    /// <summary>By unit of a pool and night, those of one pool and night in the order in which they become free.</summary>
    public Marks Units { get; }

    /// <summary>By zone and night: when its last work ended that a clean-down has to follow.</summary>
    public Marks Zones { get; }

    public Marks NightEnds { get; }

    /// <summary>A single row: the end of all work so far.</summary>
    public Marks All { get; }

    /// <summary>Lanes in which something half-secured is left for the morning.</summary>
    public ulong Unsecured { get; set; }

    public int PersonRow(int person, int night) => person * nights + night;

    public int UnitRow(int pool, int night) => firstUnit[pool] + order.Pools.Sizes[pool] * night;

    public int ZoneRow(int zone, int night) => zone * nights + night;

    public Span<int> NightsOf(int piece) => Nights.AsSpan(piece * Lanes.Count, Lanes.Count);

    public Span<float> MinutesOf(int piece) => Minutes.AsSpan(piece * Lanes.Count, Lanes.Count);

    public void Clear()
    {
        People.Clear(Lanes.None);
        for (var person = 0; person < order.Problem.Crew.Count; person++)
            for (var night = 0; night < nights; night++)
                if (order.Room.ShiftOf(person, night) is { } shift) People.Times(PersonRow(person, night)).Fill(shift.From);
        Units.Clear(Lanes.None);
        Zones.Clear(Lanes.None);
        NightEnds.Clear(Lanes.None);
        All.Clear(Lanes.None);
        Array.Clear(Waiting);
        Unsecured = 0;
    }
}
