using SetWeek.Model.Plans;
using SetWeek.Planning.Risk.Reports;

namespace SetWeek.Planning.Certainty;

/// <summary>A plan made for a chance to hold, and the chance that it has.</summary>
/// <param name="AskedPercent">The chance that the search asked for, in percent; 0: the search ignored the chance.</param>
/// <param name="Plan">The plan, with the week's own goals.</param>
/// <param name="Chance">The chance, measured on scenarios that the search has not seen.</param>
/// <param name="Cost">Wages, in minor units.</param>
public sealed record CertainPlan(int AskedPercent, Plan Plan, HoldChance Chance, long Cost);
