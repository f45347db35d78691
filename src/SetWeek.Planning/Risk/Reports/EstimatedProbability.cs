namespace SetWeek.Planning.Risk.Reports;

/// <summary>A probability estimated by simulation: the share of runs in which something held.</summary>
/// <param name="Held">The number of runs in which it held.</param>
/// <param name="Runs">The number of runs; at least 1.</param>
public readonly record struct EstimatedProbability(int Held, int Runs)
{
    /// <summary>The normal quantile of a confidence interval of 95 %.</summary>
    private const double Normal95 = 1.96;

    /// <summary>The estimate, from 0 to 1.</summary>
    public double Share => (double)Held / Runs;

    /// <summary>
    /// The Monte Carlo standard error of the share, sqrt(p (1 - p) / n). It is 0 if all runs or none held. It does not measure
    /// how good the duration estimates are.
    /// </summary>
    public double StandardError => Math.Sqrt(Share * (1 - Share) / Runs);

    /// <summary>The lower end of the confidence interval of 95 %, by the normal approximation; at least 0.</summary>
    public double LowerLimit() => Math.Max(0, Share - Normal95 * StandardError);

    /// <summary>The upper end of the same interval; at most 1.</summary>
    public double UpperLimit() => Math.Min(1, Share + Normal95 * StandardError);

    /// <summary>The share of runs in which it did not hold.</summary>
    public EstimatedProbability Complement() => new(Runs - Held, Runs);
}
