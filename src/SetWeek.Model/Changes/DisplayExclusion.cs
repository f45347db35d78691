using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>
/// Excludes displays from the plan: their tasks need a kit that never arrives. This only adds constraints, so a plan of the
/// new week is also a plan of the original one, with the same goal values.
/// </summary>
public static class DisplayExclusion
{
    /// <summary>A valid id that no week file is likely to use.</summary>
    private const string UndeliveredKitId = "held-back.never-comes";

    private static readonly KitRequirement Undelivered = new(UndeliveredKitId);

    /// <summary>True for the kit added by this class, which no sentence or repair should name.</summary>
    internal static bool IsUndeliveredKit(Kit kit) => kit.Id == UndeliveredKitId;

    /// <summary>The week in which none of the displays can be built.</summary>
    public static Week Exclude(Week week, params string[] displays) => week with
    {
        Kits = week.Kits.Any(IsUndeliveredKit) ? week.Kits
            : [.. week.Kits, new Kit(UndeliveredKitId, "Held back", Eta: null)],
        Tasks = [.. week.Tasks.Select(task =>
            !displays.Contains(task.Display) || task.Needs.Contains(Undelivered) ? task
            : task with { Needs = [.. task.Needs, Undelivered] })],
    };

    /// <summary>The ids of the displays that are excluded: some task of them needs the undelivered kit.</summary>
    public static IReadOnlySet<string> ExcludedFrom(Week week) => week.Tasks
        .Where(task => task.Needs.Contains(Undelivered)).Select(task => task.Display).ToHashSet(StringComparer.Ordinal);

    /// <summary>The week without any exclusion.</summary>
    public static Week Lift(Week week) => !week.Kits.Any(IsUndeliveredKit) ? week : week with
    {
        Kits = [.. week.Kits.Where(kit => !IsUndeliveredKit(kit))],
        Tasks = [.. week.Tasks.Select(task => !task.Needs.Contains(Undelivered) ? task
            : task with { Needs = [.. task.Needs.Where(need => need != Undelivered)] })],
    };
}
