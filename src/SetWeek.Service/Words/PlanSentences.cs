using SetWeek.Model.Plans;

namespace SetWeek.Service.Words;

/// <summary>Sentences about a week that has no plan, for the command line and the pages.</summary>
public static class PlanSentences
{
    public static string ConflictHeading(Plan plan) =>
        plan.Conflict.Count == 1 ? "This makes a plan impossible:" : "No plan can meet all of these:";

    public const string UnplacedHeading = "The closest attempt found no place for this work; it may fit in another plan";

    /// <returns>Null if a repair was found, if there is no conflict, or if facts alone are to blame.</returns>
    public static string? NoRepair(Plan plan) =>
        plan.Repairs.Count > 0 || plan.Conflict.All(member => member.Rule == RuleId.Frozen) ? null
        : "In the time available, the search found no single change and no pair of changes that would make a plan possible. "
            + "There may be further conflicts.";

    /// <returns>Null if there is no conflict, or if a proven conflict has one member.</returns>
    public static string? Minimality(Plan plan) => plan.Conflict.Count == 0 ? null
        : !plan.ConflictSmallest
            ? "The time ran out before it was proven that all of these are needed. Some of them may not be part of the conflict."
        : plan.Conflict.Count == 1 ? null : "Changing any one of these resolves the conflict (proven).";

    /// <returns>Null if there are fewer than two repairs to compare.</returns>
    public static string? RepairOrder(Plan plan) => plan.Repairs.Count < 2 ? null
        : "Their order is rough: each was improved for a moment only, so small differences of cost mean nothing. Plan the "
            + "changed week to compare two of them.";
}
