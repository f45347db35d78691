using SetWeek.Domain.Plans;

namespace SetWeek.Service.Plans;

/// <summary>A plan that was asked for is to be worked out. The request itself, with its limits, is a document.</summary>
public sealed record SolvePlan(string Week, string Plan)
{
    /// <summary>No request may ask the solver for longer.</summary>
    public static readonly TimeSpan Longest = TimeSpan.FromSeconds(PlanLimits.MostSeconds);
}
