using System.Globalization;
using NodaTime;
using OneOf;
using SetWeek.Domain.Crews;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Changes;
using SetWeek.Model.Files;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Revisions;

/// <summary>
/// The one decision by which an open week changes. Every request that edits a week, accepts a repair or accepts a what-if states
/// the week that it wants; this decision finds the events that lead there.
/// </summary>
public static class RevisionDecisions
{
    /// <summary>
    /// Compares the week as the planner reads it (<see cref="PlanningProblem.WeekOf"/>) with the wanted week.
    /// </summary>
    /// <param name="wanted">The wanted week, made from the one that the planner reads.</param>
    /// <param name="now">Store-local.</param>
    /// <param name="by">The id of the person who decides.</param>
    /// <returns>
    /// The events; a refusal if the wanted week contradicts work that has begun, or a fact; or the faults of the wanted week,
    /// with JSON Pointers into it.
    /// </returns>
    public static OneOf<WeekRevision, Refusal, FaultReport> Revise(
        this StoreWeek week, CrewFile crew, Week wanted, LocalDateTime now, string by)
    {
        wanted = StopBans.Remove(week, wanted);
        if (NewFaults(PlanningProblem.WeekOf(week, crew), wanted) is { Count: > 0 } invalid) return new FaultReport(invalid);
        var comparison = new WeekComparison(week, crew, wanted, by);
        if (comparison.Faults.Count > 0) return new FaultReport(comparison.Faults);
        if (comparison.Refusals.Count > 0) return comparison.Refusals[0];
        var contradictions = BegunWork.Contradictions(comparison.Before, comparison.After, DisplayExclusion.ExcludedFrom(wanted),
            PlanningProblem.Of(week, crew, now).Replan);
        if (contradictions.Count > 0)
            return new Refusal("work-begun", "This contradicts work that has begun, so nothing was changed.")
            {
                Because = contradictions,
            };
        return new WeekRevision(comparison.Events, comparison.Crew);
    }

    /// <summary>
    /// The faults of the wanted week that the current one does not have. A week may have faults of its own: if somebody with a
    /// rare skill was erased, or the crew is still joining, nobody can do some task. That must not stand in the way of other
    /// changes. So roles that are short of people already make no new fault, whoever is missing.
    /// </summary>
    public static IReadOnlyList<Fault> NewFaults(Week current, Week wanted) => WeekFile.Check(wanted).Match(
        _ => [],
        faults =>
        {
            var known = WeekFile.Check(current).Match(_ => [], old => old.All);
            var details = known.Select(fault => fault.Detail).ToHashSet();
            var shortRoles = known.Select(fault => RolesAt(current, fault.Pointer)).OfType<string>().ToHashSet();
            return faults.All.Where(fault => !details.Contains(fault.Detail)
                && !(RolesAt(wanted, fault.Pointer) is { } roles && shortRoles.Contains(roles))).ToList();
        });

    /// <summary>
    /// The roles in which a fault lies: those of a task's mode, or of a zone's clean-down. Null for another fault.
    /// </summary>
    private static string? RolesAt(Week week, string pointer) => pointer.Split('/') switch
    {
        ["", "tasks", var task, "modes", var mode, "roles", ..] => $"{week.Tasks[Number(task)].Id}/{mode}",
        ["", "store", "zones", var zone, "cleanDown", "roles", ..] => week.Store.Zones[Number(zone)].Id,
        _ => null,
    };

    private static int Number(string index) => int.Parse(index, CultureInfo.InvariantCulture);
}
