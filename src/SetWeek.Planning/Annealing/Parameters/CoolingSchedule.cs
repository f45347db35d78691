namespace SetWeek.Planning.Annealing.Parameters;

/// <summary>
/// Coolings one after another. Each later one reheats the best plan: a single cooling ends in a local optimum, of which the next
/// keeps most.
/// </summary>
internal sealed record CoolingSchedule
{
    public int Cycles { get; init; } = 1;

    /// <summary>Share of the time that the first cooling takes; the others divide the rest equally.</summary>
    public double FirstShare { get; init; } = 1;

    /// <summary>
    /// Temperatures, in hours of mean pay: at the start of the first cooling, of each later one, and at the end.
    /// </summary>
    public double InitialTemperature { get; init; } = 0.5;

    /// <inheritdoc cref="InitialTemperature"/>
    public double ReheatTemperature { get; init; } = 0.5;

    /// <inheritdoc cref="InitialTemperature"/>
    public double FinalTemperature { get; init; } = 0.01;

    /// <summary>Share of a cooling after which no worse plan is accepted.</summary>
    public double GreedyFrom { get; init; } = 0.92;

    /// <summary>The cooling at an elapsed share of the time.</summary>
    public CoolingCycle CycleAt(double share)
    {
        if (share < FirstShare || Cycles == 1) return new CoolingCycle(0, Math.Min(1, share / FirstShare));
        var later = Math.Min(1, (share - FirstShare) / (1 - FirstShare)) * (Cycles - 1);
        var whole = Math.Min(Cycles - 2, (int)later);
        return new CoolingCycle(1 + whole, later - whole);
    }

    /// <summary>The temperature in a cooling; 0: no worse plan is accepted.</summary>
    public double TemperatureIn(CoolingCycle cycle) => cycle.Share > GreedyFrom ? 0
        : GeometricCooling.At(cycle.Number == 0 ? InitialTemperature : ReheatTemperature, FinalTemperature, cycle.Share);
}

/// <summary>A moment of a cooling schedule: the number of the cooling, from 0, and its elapsed share.</summary>
internal readonly record struct CoolingCycle(int Number, double Share);
