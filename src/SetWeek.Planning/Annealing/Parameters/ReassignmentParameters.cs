namespace SetWeek.Planning.Annealing.Parameters;

/// <summary>Numbers of <see cref="StaffReassignment"/>. The defaults are measured.</summary>
internal sealed record ReassignmentParameters
{
    /// <summary>Steps in a night for each person that its work requires.</summary>
    public int StepsPerRequirement { get; init; } = 150;

    /// <summary>Temperature at the start and at the end, in units of the last of the goals that it improves.</summary>
    public double InitialTemperature { get; init; } = 1;

    public double FinalTemperature { get; init; } = 0.1;

    /// <summary>Each goal weighs this many times as much as the next one.</summary>
    public double GoalRatio { get; init; } = 4;

    /// <summary>Probability that two people exchange the rest of their night.</summary>
    public double ExchangeRest { get; init; } = 0.3;

    /// <summary>Otherwise: probability that one person takes another's place, who then does nothing in that time.</summary>
    public double Replace { get; init; } = 0.4;

    /// <summary>Steps in one unit of effort, which is about one second of one core.</summary>
    public double StepsPerEffortUnit { get; init; } = 1.5e6;
}
