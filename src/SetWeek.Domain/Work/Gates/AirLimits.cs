namespace SetWeek.Domain.Work.Gates;

/// <summary>The air in which paint of the usual kinds is applied, and how much longer it dries in moist air.</summary>
/// <param name="Drying">How much longer paint dries, in steps of rising moisture.</param>
public sealed record AirLimits(
    IReadOnlyList<string> Traits, int LeastDegreesCelsius, int MostDegreesCelsius, int MostMoisturePercent, string Citation,
    AirDrying Drying)
{
    public bool Contains(int degreesCelsius, int moisturePercent) => moisturePercent <= MostMoisturePercent
        && degreesCelsius >= LeastDegreesCelsius && degreesCelsius <= MostDegreesCelsius;

    /// <summary>Estimates how long paint dries. The data sheet of the product comes first.</summary>
    /// <returns>
    /// The estimate in percent of the minutes that are planned for dry air; null outside the limits, where nothing is known.
    /// </returns>
    public int? DryingPercent(int degreesCelsius, int moisturePercent) => !Contains(degreesCelsius, moisturePercent) ? null
        : Drying.Steps.Where(step => moisturePercent <= step.MostMoisturePercent).Select(step => (int?)step.Percent)
            .FirstOrDefault();

    /// <summary>The estimate in whole minutes, rounded up.</summary>
    /// <param name="minutes">What the direction plans.</param>
    /// <param name="percent">The estimate in percent of them.</param>
    public static int DryingMinutes(int minutes, int percent) => (minutes * percent + 99) / 100;
}

/// <summary>How much longer paint dries in moist air.</summary>
/// <param name="Citation">Where it is said, and how the source was read.</param>
public sealed record AirDrying(IReadOnlyList<DryingStep> Steps, string Citation);

/// <param name="MostMoisturePercent">Up to this relative humidity.</param>
/// <param name="Percent">Of the minutes that are planned for dry air.</param>
public sealed record DryingStep(int MostMoisturePercent, int Percent);
