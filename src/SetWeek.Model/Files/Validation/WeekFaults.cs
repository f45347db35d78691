using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Validation;

/// <summary>Finds the faults of a week whose fields are each valid but contradict one another.</summary>
/// <remarks>
/// Fields that could not be read have placeholders ("", the default time), which the checks skip. <c>isFaultFree</c> tells
/// whether everything at and below a JSON Pointer could be read.
/// </remarks>
internal static class WeekFaults
{
    public static IEnumerable<Fault> Of(Week week, Func<string, bool> isFaultFree) =>
        DuplicateFaults.Of(week)
            .Concat(ReferenceFaults.Of(week, isFaultFree))
            .Concat(CycleFaults.Of(week))
            .Concat(TimeFaults.Of(week))
            .Concat(CrewFaults.Of(week, isFaultFree))
            .Concat(DisplayFaults.Of(week))
            .Concat(NumberFaults.Of(week))
            .Concat(PinFaults.Of(week));
}
