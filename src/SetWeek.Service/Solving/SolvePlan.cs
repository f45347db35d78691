using SetWeek.Domain.Plans;
using Wolverine.Attributes;

namespace SetWeek.Service.Solving;

/// <summary>The message that starts the search for a requested plan. The request with its limits is a document.</summary>
[MessageIdentity(StoredName)]
public sealed record SolvePlan(string Week, string Plan)
{
    /// <summary>The name under which queued messages are stored. It must never change, even if the type is renamed.</summary>
    public const string StoredName = "SetWeek.Service.Plans.SolvePlan";

    /// <summary>The longest time limit of a search.</summary>
    public static readonly TimeSpan Longest = TimeSpan.FromSeconds(PlanLimits.MostSeconds);
}
