namespace SetWeek.Model.Durations;

/// <summary>
/// The duration of an activity in the runs of a simulation: a fixed part plus, if it is uncertain, a random part.
/// </summary>
/// <param name="Fixed">Minutes.</param>
/// <param name="RandomPart">Null: the duration is certain.</param>
internal sealed record SimulatedDuration(double Fixed, RandomDuration? RandomPart)
{
    public static SimulatedDuration Certain(double minutes) => new(minutes, null);

    /// <summary>Most likely minutes: the crew decides by these whether an activity still fits the night.</summary>
    public double MostLikely => Fixed + (RandomPart?.Estimate.MostLikely * RandomPart?.Scale ?? 0);

    /// <summary>Fills in the minutes of consecutive runs, from <paramref name="firstRun"/> on.</summary>
    public void FillSamples(Span<float> minutes, int firstRun)
    {
        if (RandomPart is null) minutes.Fill((float)Fixed);
        else RandomPart.FillSamples(minutes, firstRun, Fixed);
    }
}

/// <summary>A duration drawn by inverting its distribution function.</summary>
/// <param name="Estimate">Minutes of the whole task in its first mode.</param>
/// <param name="Scale">
/// The activity's share of that. It combines the mode's minutes relative to the first mode, the stint's share of the task, and
/// the share that remains of work under way.
/// </param>
/// <param name="TruncationProbability">
/// Work under way cannot take less than it has taken. The distribution is truncated below this probability.
/// </param>
/// <param name="Distribution">Which distribution the estimate stands for.</param>
/// <param name="RandomNumbers">One number for each run.</param>
internal sealed record RandomDuration(ThreePointEstimate Estimate, double Scale, double TruncationProbability,
    DurationDistribution Distribution, CommonRandomNumbers RandomNumbers)
{
    private readonly BetaQuantileTable? quantiles =
        Distribution == DurationDistribution.Beta ? BetaQuantileTable.Of(Estimate.RelativeMode) : null;

    public void FillSamples(Span<float> minutes, int firstRun, double fixedMinutes)
    {
        for (var lane = 0; lane < minutes.Length; lane++)
        {
            var probability = TruncationProbability + (1 - TruncationProbability) * RandomNumbers.Uniform(firstRun + lane);
            var share = quantiles?.Quantile(probability) ?? Triangular.UnitQuantile(Estimate.RelativeMode, probability);
            minutes[lane] = (float)(fixedMinutes + Scale * (Estimate.Optimistic + Estimate.Range * share));
        }
    }
}
