namespace SetWeek.Planning.Risk.Simulation;

/// <summary>A time in each lane, and the piece that made it so.</summary>
internal readonly struct LaneTimes(int rows)
{
    private readonly float[] times = new float[rows * Lanes.Count];
    private readonly int[] causes = new int[rows * Lanes.Count];

    public Span<float> Times(int row) => times.AsSpan(row * Lanes.Count, Lanes.Count);

    public Span<int> Causes(int row) => causes.AsSpan(row * Lanes.Count, Lanes.Count);

    public void Clear(float time)
    {
        Array.Fill(times, time);
        Array.Fill(causes, Lanes.NoPredecessor);
    }

    public void Set(int row, int lane, float time, int cause)
    {
        times[row * Lanes.Count + lane] = time;
        causes[row * Lanes.Count + lane] = cause;
    }

    public void RaiseTo(int row, int lane, float time, int cause)
    {
        if (time > times[row * Lanes.Count + lane]) Set(row, lane, time, cause);
    }
}

/// <summary>Where the runs of a block stand: who is free when, what has ended when. Used again for block after block.</summary>
internal sealed class SimulationState
{
    private readonly SimulationNetwork network;
    private readonly int nights;
    private readonly int[] firstUnit;

    public SimulationState(SimulationNetwork network)
    {
        this.network = network;
        nights = network.Problem.Nights.Count;
        firstUnit = new int[network.Resources.Capacities.Count];
        var units = 0;
        for (var pool = 0; pool < firstUnit.Length; pool++)
        {
            firstUnit[pool] = units;
            units += network.Resources.Capacities[pool] * nights;
        }
        Ends = new LaneTimes(network.Activities.Count);
        Nights = new int[network.Activities.Count * Lanes.Count];
        Minutes = new float[network.Activities.Count * Lanes.Count];
        PutOff = new ulong[network.Activities.Count];
        PersonFree = new LaneTimes(network.Problem.Crew.Count * nights);
        UnitFree = new LaneTimes(units);
        ZoneEnds = new LaneTimes(network.Problem.Zones.Count * nights);
        NightEnds = new LaneTimes(nights);
        LatestEnd = new LaneTimes(1);
    }

    /// <summary>By piece: its end, and the piece that it waited for.</summary>
    public LaneTimes Ends { get; }

    /// <summary>By piece and lane: the night in which it is done; -1: in none.</summary>
    public int[] Nights { get; }

    /// <summary>By piece and lane: how long it takes.</summary>
    public float[] Minutes { get; }

    /// <summary>By piece: the lanes in which it is put off and has not been done yet.</summary>
    public ulong[] PutOff { get; }

    /// <summary>By person and night: from when they are free, and after what.</summary>
    public LaneTimes PersonFree { get; }

    /// <summary>By unit of a pool and night, those of one pool and night in the order in which they become free.</summary>
    public LaneTimes UnitFree { get; }

    /// <summary>By zone and night: when its last work ended that a clean-down has to follow.</summary>
    public LaneTimes ZoneEnds { get; }

    public LaneTimes NightEnds { get; }

    /// <summary>A single row: the end of all work so far.</summary>
    public LaneTimes LatestEnd { get; }

    /// <summary>Lanes in which something half-secured is left for the morning.</summary>
    public ulong Unsecured { get; set; }

    public int PersonRow(int person, int night) => person * nights + night;

    public int UnitRow(int pool, int night) => firstUnit[pool] + network.Resources.Capacities[pool] * night;

    public int ZoneRow(int zone, int night) => zone * nights + night;

    public Span<int> NightsOf(int activity) => Nights.AsSpan(activity * Lanes.Count, Lanes.Count);

    public Span<float> MinutesOf(int activity) => Minutes.AsSpan(activity * Lanes.Count, Lanes.Count);

    public void Reset()
    {
        PersonFree.Clear(Lanes.None);
        for (var person = 0; person < network.Problem.Crew.Count; person++)
            for (var night = 0; night < nights; night++)
                if (network.NightLimits.ShiftOf(person, night) is { } shift) PersonFree.Times(PersonRow(person, night)).Fill(shift.From);
        UnitFree.Clear(Lanes.None);
        ZoneEnds.Clear(Lanes.None);
        NightEnds.Clear(Lanes.None);
        LatestEnd.Clear(Lanes.None);
        Array.Clear(PutOff);
        Unsecured = 0;
    }
}
