namespace SetWeek.Planning.Risk.Reports;

/// <summary>A probability estimated by simulation: the share of runs in which something held.</summary>
/// <param name="Held">The number of runs in which it held.</param>
/// <param name="Runs">The number of runs; at least 1.</param>
public readonly record struct EstimatedProbability(int Held, int Runs)
{
    /// <summary>The estimate, from 0 to 1.</summary>
    public double Share => (double)Held / Runs;

    /// <summary>
    /// The Monte Carlo standard error of the share, sqrt(p (1 - p) / n). It is 0 if all runs or none held. It does not measure
    /// how good the duration estimates are.
    /// </summary>
    public double StandardError => Math.Sqrt(Share * (1 - Share) / Runs);

    /// <summary>The share of runs in which it did not hold.</summary>
    public EstimatedProbability Complement() => new(Runs - Held, Runs);
}
