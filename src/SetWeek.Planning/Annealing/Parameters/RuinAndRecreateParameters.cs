namespace SetWeek.Planning.Annealing.Parameters;

/// <summary>Numbers of one step of <see cref="RuinAndRecreate"/>. A probability of 0 draws no random number.</summary>
internal sealed record RuinAndRecreateParameters
{
    /// <summary>Each step draws one of them, each equally often.</summary>
    public required IReadOnlyList<PriorityRule> PriorityRules { get; init; }

    public required PriceDistribution Prices { get; init; }

    /// <summary>
    /// Probability that a stint without room may switch its display to the next choice, in a step in which the search does not
    /// allow that.
    /// </summary>
    public double ChangeChoices { get; init; }

    /// <summary>Probability that all stints are inserted at their earliest possible start, regardless of the price.</summary>
    public double EarliestInsertion { get; init; }

    /// <summary>True: a step that leaves a stint out is rejected at once.</summary>
    public bool AllOrNothing { get; init; }
}
