namespace SetWeek.Model.Simulation;

/// <summary>
/// A table of times. Each row has one time for each lane (simulated run), with the activity that determined it.
/// </summary>
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

/// <summary>The state of a block of runs while it is simulated. It is reused for the next block.</summary>
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
        for (var resource = 0; resource < firstUnit.Length; resource++)
        {
            firstUnit[resource] = units;
            units += network.Resources.Capacities[resource] * nights;
        }
        Ends = new LaneTimes(network.Activities.Count);
        Nights = new int[network.Activities.Count * Lanes.Count];
        Minutes = new float[network.Activities.Count * Lanes.Count];
        PutOff = new ulong[network.Activities.Count];
        HalfSecured = new ulong[network.Activities.Count];
        PersonFree = new LaneTimes(network.Problem.Crew.Count * nights);
        UnitFree = new LaneTimes(units);
        ZoneEnds = new LaneTimes(network.Problem.Zones.Count * nights);
        NightEnds = new LaneTimes(nights);
        LatestEnd = new LaneTimes(1);
    }

    /// <summary>By activity: its end, and the activity that it waited for.</summary>
    public LaneTimes Ends { get; }

    /// <summary>By activity and lane: the night in which it is done; -1: it is put off or not done.</summary>
    public int[] Nights { get; }

    /// <summary>By activity and lane: its duration.</summary>
    public float[] Minutes { get; }

    /// <summary>By activity: the set of lanes in which it is put off and not yet done.</summary>
    public ulong[] PutOff { get; }

    /// <summary>By person and night: when the person becomes free, and after which activity.</summary>
    public LaneTimes PersonFree { get; }

    /// <summary>
    /// By unit of a resource and night: when it becomes free. The units of one resource and night are sorted by that time.
    /// </summary>
    public LaneTimes UnitFree { get; }

    /// <summary>By zone and night: the end of the last work that a clean-down has to follow.</summary>
    public LaneTimes ZoneEnds { get; }

    /// <summary>By night: the end of its work so far.</summary>
    public LaneTimes NightEnds { get; }

    /// <summary>A single row: the end of all work so far.</summary>
    public LaneTimes LatestEnd { get; }

    /// <summary>The set of lanes in which work is left half-secured at the end of a night.</summary>
    public ulong Unsecured { get; private set; }

    /// <summary>By activity: the set of lanes in which it does not follow, in the same night, the work that it secures.</summary>
    public ulong[] HalfSecured { get; }

    /// <summary>Records that an activity does not secure in time what it has to follow in the same night.</summary>
    public void MarkHalfSecured(int activity, int lane)
    {
        Unsecured |= 1UL << lane;
        HalfSecured[activity] |= 1UL << lane;
    }

    public int PersonRow(int person, int night) => person * nights + night;

    public int UnitRow(int resource, int night) => firstUnit[resource] + network.Resources.Capacities[resource] * night;

    public int ZoneRow(int zone, int night) => zone * nights + night;

    public Span<int> NightsOf(int activity) => Nights.AsSpan(activity * Lanes.Count, Lanes.Count);

    public Span<float> MinutesOf(int activity) => Minutes.AsSpan(activity * Lanes.Count, Lanes.Count);

    public void Reset()
    {
        PersonFree.Clear(Lanes.None);
        for (var person = 0; person < network.Problem.Crew.Count; person++)
            for (var night = 0; night < nights; night++)
                if (network.NightLimits.ShiftOf(person, night) is { } shift)
                    PersonFree.Times(PersonRow(person, night)).Fill(shift.From);
        UnitFree.Clear(Lanes.None);
        ZoneEnds.Clear(Lanes.None);
        NightEnds.Clear(Lanes.None);
        LatestEnd.Clear(Lanes.None);
        Array.Clear(PutOff);
        Array.Clear(HalfSecured);
        Unsecured = 0;
    }
}
