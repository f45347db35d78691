using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Model.Rules.Definition;

/// <summary>
/// What a re-plan can no longer change, as the checks ask for it; in a first plan nothing has happened. A rule instance that
/// only such things break is a fact, not a fault of the plan (docs/decisions/replan-reading.md).
/// </summary>
internal static class FrozenHorizon
{
    /// <summary>Begun: from before now. (New work there is the frozen rule's to refuse.)</summary>
    public static bool HasBegun(this Problem problem, ScheduledWork work) => problem.Facts is { } facts && work.From < facts.Now;

    public static bool HasBegun(this Problem problem, ScheduledShift shift) => problem.Facts is { } facts && shift.From < facts.Now;

    /// <summary>Over when the re-plan is made; a shift that the re-plan itself cuts to now is not.</summary>
    public static bool HasEnded(this Problem problem, ScheduledShift shift) =>
        problem.HasBegun(shift) && !problem.Facts!.EarliestEnds.ContainsKey((shift.Person, shift.Night));

    /// <summary>Nothing of its end is left to plan: it is over, or it is under way and cannot end sooner.</summary>
    public static bool EndsAtEarliest(this Problem problem, ScheduledShift shift) =>
        problem.HasBegun(shift)
        && (!problem.Facts!.EarliestEnds.TryGetValue((shift.Person, shift.Night), out var end) || shift.To <= end);

    public static bool HasBegun(this Problem problem, Span rest) => problem.Facts is { } facts && rest.From < facts.Now;

    /// <summary>Has that minute passed?</summary>
    public static bool HasPassed(this Problem problem, int minute) => problem.Facts is { } facts && minute <= facts.Now;
}
