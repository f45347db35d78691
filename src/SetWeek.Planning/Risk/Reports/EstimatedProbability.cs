namespace SetWeek.Planning.Risk.Reports;

/// <summary>In how many of the runs something held.</summary>
public readonly record struct EstimatedProbability(int Held, int Runs)
{
    public double Share => (double)Held / Runs;

    /// <summary>
    /// Of the share, from the number of runs alone: sqrt(p (1 - p) / n). It says nothing of how good the estimates are, and is 0
    /// where all runs or none held.
    /// </summary>
    public double StandardError => Math.Sqrt(Share * (1 - Share) / Runs);

    /// <summary>In how many it did not.</summary>
    public EstimatedProbability Complement() => new(Runs - Held, Runs);
}
