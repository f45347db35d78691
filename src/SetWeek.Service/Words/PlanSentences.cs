using SetWeek.Model.Plans;

namespace SetWeek.Service.Words;

/// <summary>How a plan that there is not is spoken of, at a terminal and on a page.</summary>
public static class PlanSentences
{
    public static string ConflictHeading(Plan plan) => plan.Conflict.Count == 1 ? "This cannot be:" : "These cannot hold together:";

    /// <summary>Null where something helps, or nothing has to.</summary>
    public static string? NoRepair(Plan plan) => plan.Conflict.Count == 0 || plan.Repairs.Count > 0 ? null
        : "No change that would make a plan possible was found in the time given, nor two together: there may be more than this "
            + "that cannot hold.";

    /// <summary>Null where there is nothing to be said.</summary>
    public static string? Minimality(Plan plan) => plan.Conflict.Count == 0 ? null
        : !plan.ConflictSmallest
            ? "The time ran out before it was proven that all of these are needed for that; fewer of them may be enough."
        : plan.Conflict.Count == 1 ? null : "Were any one of these not so, the others could hold: that is proven.";
}
