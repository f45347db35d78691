using SetWeek.Model.Plans;

namespace SetWeek.Domain.Weeks;

/// <summary>The published plan, by which the store works.</summary>
public sealed record PublishedPlan(string PlanId, string InputHash, Plan Plan);
