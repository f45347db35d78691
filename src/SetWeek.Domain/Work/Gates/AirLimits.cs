namespace SetWeek.Domain.Work.Gates;

/// <summary>The air in which paint of the usual kinds is applied, and how much longer it dries in moist air.</summary>
/// <param name="Drying">By rising moisture.</param>
public sealed record AirLimits(
    IReadOnlyList<string> Traits, int LeastDegreesCelsius, int MostDegreesCelsius, int MostMoisturePercent, string Citation,
    AirDrying Drying)
{
    public bool Contains(int degreesCelsius, int moisturePercent) => moisturePercent <= MostMoisturePercent
        && degreesCelsius >= LeastDegreesCelsius && degreesCelsius <= MostDegreesCelsius;

    /// <summary>An estimate of how long paint dries. The data sheet of the product comes first.</summary>
    /// <returns>In percent of those minutes; null where the air is outside the limits, because nothing is known then.</returns>
    public int? PercentOfDrying(int degreesCelsius, int moisturePercent) => !Contains(degreesCelsius, moisturePercent) ? null
        : Drying.Steps.Where(step => moisturePercent <= step.MostMoisturePercent).Select(step => (int?)step.Percent).FirstOrDefault();

    /// <summary>Whole minutes, rounded up.</summary>
    /// <param name="minutes">What the direction plans.</param>
    public static int Lengthened(int minutes, int percent) => (minutes * percent + 99) / 100;
}

/// <summary>How much longer paint dries in moist air.</summary>
/// <param name="Citation">Where it is said, and how the source was read.</param>
public sealed record AirDrying(IReadOnlyList<DryingStep> Steps, string Citation);

/// <param name="MostMoisturePercent">Up to this relative humidity.</param>
/// <param name="Percent">Of the minutes that are planned for dry air.</param>
public sealed record DryingStep(int MostMoisturePercent, int Percent);
