using SetWeek.Domain.Plans;
using Wolverine.Attributes;

namespace SetWeek.Service.Solving;

/// <summary>A plan that was asked for is to be worked out. The request itself, with its limits, is a document.</summary>
[MessageIdentity(StoredName)]
public sealed record SolvePlan(string Week, string Plan)
{
    /// <summary>The name under which queued messages are stored. It must never change, whatever the type is called.</summary>
    public const string StoredName = "SetWeek.Service.Plans.SolvePlan";

    /// <summary>No request may ask the solver for longer.</summary>
    public static readonly TimeSpan Longest = TimeSpan.FromSeconds(PlanLimits.MostSeconds);
}
