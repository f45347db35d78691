using SetWeek.Model.Plans;

namespace SetWeek.Domain.Weeks;

/// <summary>The plan that the store works by.</summary>
public sealed record PublishedPlan(string PlanId, string InputHash, Plan Plan);
