using SetWeek.Model.Plans;

namespace SetWeek.Planning.Certainty;

/// <summary>What certainty costs: plans of the same week, made for several chances to hold.</summary>
/// <param name="Plans">The cheapest first. All leave out as little as the best of them.</param>
/// <param name="WithoutPlan">
/// Where there are no plans, the reason: infeasible with its conflict and repairs, or unknown. Otherwise null.
/// </param>
public sealed record CertaintyOffer(IReadOnlyList<CertainPlan> Plans, Plan? WithoutPlan);
