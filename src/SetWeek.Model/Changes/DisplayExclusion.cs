using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>
/// Excludes displays from the plan: their tasks need a kit that never arrives. This only adds constraints, so a plan of the
/// new week is also a plan of the original one, with the same goal values.
/// </summary>
internal static class DisplayExclusion
{
    /// <summary>A valid id that no week file is likely to use.</summary>
    private const string UndeliveredKitId = "held-back.never-comes";

    /// <summary>True for the kit added by this class, which no sentence or repair should name.</summary>
    public static bool IsUndeliveredKit(Kit kit) => kit.Id == UndeliveredKitId;

    /// <summary>The week in which none of the displays can be built.</summary>
    public static Week Exclude(Week week, params string[] displays) => week with
    {
        Kits = week.Kits.Any(IsUndeliveredKit) ? week.Kits
            : [.. week.Kits, new Kit(UndeliveredKitId, "Held back", Eta: null)],
        Tasks = [.. week.Tasks.Select(task =>
            !displays.Contains(task.Display) || task.Needs.Contains(new KitRequirement(UndeliveredKitId)) ? task
            : task with { Needs = [.. task.Needs, new KitRequirement(UndeliveredKitId)] })],
    };
}
