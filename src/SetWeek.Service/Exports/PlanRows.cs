using SetWeek.Model.Plans;

namespace SetWeek.Service.Exports;

/// <summary>The rows of a night, in the order in which tables have them.</summary>
internal static class PlanRows
{
    public static IEnumerable<PlannedShift> Shifts(PlannedNight night) => night.Shifts
        .OrderBy(shift => shift.From.ToInstant()).ThenBy(shift => shift.Person, StringComparer.Ordinal);

    /// <summary>Each piece of work with each of its people; work without people once.</summary>
    public static IEnumerable<(PlannedWork Work, PlannedPerson? Person)> Work(PlannedNight night) => night.Work
        .OrderBy(work => work.From.ToInstant()).ThenBy(work => work.To.ToInstant())
        .SelectMany(work => work.People.Select(person => (PlannedPerson?)person).DefaultIfEmpty(),
            (work, person) => (work, person));

    public static string KindOf(PlannedWork work) => work.CleanDown is null ? "task" : "clean-down";
}
