using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>
/// Displays that are not to stand: their tasks wait for something that never comes. Rules are only added by it, so that a plan
/// of such a week is a plan of the week as it was, goals measured alike.
/// </summary>
internal static class DisplayExclusion
{
    /// <summary>An id like any other, and one that no week file is likely to have.</summary>
    private const string UndeliveredKitId = "held-back.never-comes";

    /// <summary>The kit that never comes is none that anybody could ask after.</summary>
    public static bool IsUndeliveredKit(Kit kit) => kit.Id == UndeliveredKitId;

    public static Week Exclude(Week week, params string[] displays) => week with
    {
        Kits = week.Kits.Any(kit => kit.Id == UndeliveredKitId) ? week.Kits : [.. week.Kits, new Kit(UndeliveredKitId, "Held back", Eta: null)],
        Tasks = [.. week.Tasks.Select(task => !displays.Contains(task.Display) || task.Needs.Contains(new KitRequirement(UndeliveredKitId)) ? task
            : task with { Needs = [.. task.Needs, new KitRequirement(UndeliveredKitId)] })],
    };
}
