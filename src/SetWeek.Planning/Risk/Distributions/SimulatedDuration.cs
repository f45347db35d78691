namespace SetWeek.Planning.Risk.Distributions;

/// <summary>
/// How long a piece of work takes in each run: <c>Fixed</c> minutes and, where it is uncertain, a drawn part beside.
/// </summary>
/// <param name="Fixed">Minutes that are certain.</param>
/// <param name="RandomPart">What is drawn; null: nothing.</param>
internal sealed record SimulatedDuration(double Fixed, RandomDuration? RandomPart)
{
    public static SimulatedDuration Certain(double minutes) => new(minutes, null);

    /// <summary>Most likely, in minutes: what the crew reckons with when it asks whether a piece still fits.</summary>
    public double MostLikely => Fixed + (RandomPart?.Estimate.MostLikely * RandomPart?.Scale ?? 0);

    public void FillSamples(Span<float> minutes, int firstRun)
    {
        if (RandomPart is null) minutes.Fill((float)Fixed);
        else RandomPart.FillSamples(minutes, firstRun, Fixed);
    }
}

/// <param name="Estimate">Of the whole task in its first mode, in minutes.</param>
/// <param name="Scale">What this piece is of that: its mode's minutes over the first's, a stint's part, what remains.</param>
/// <param name="TruncationProbability">The share of chance that has gone by: of running work only what is longer than it has taken is
/// left.</param>
internal sealed record RandomDuration(ThreePointEstimate Estimate, double Scale, double TruncationProbability, DurationDistribution Distribution, CommonRandomNumbers RandomNumbers)
{
    private readonly BetaQuantileTable? quantiles = Distribution == DurationDistribution.Beta ? BetaQuantileTable.Of(Estimate.RelativeMode) : null;

    public void FillSamples(Span<float> minutes, int firstRun, double fixedMinutes)
    {
        for (var lane = 0; lane < minutes.Length; lane++)
        {
            var chance = TruncationProbability + (1 - TruncationProbability) * RandomNumbers.Uniform(firstRun + lane);
            var share = quantiles?.Quantile(chance) ?? Triangular.UnitQuantile(Estimate.RelativeMode, chance);
            minutes[lane] = (float)(fixedMinutes + Scale * (Estimate.Optimistic + Estimate.Range * share));
        }
    }
}
