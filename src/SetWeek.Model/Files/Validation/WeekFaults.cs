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
    /// <param name="week">The week.</param>
    /// <param name="isFaultFree">Whether everything at and below a JSON Pointer could be read.</param>
    /// <param name="isCrewComplete">Whether work that nobody in the crew can do is a fault.</param>
    public static IEnumerable<Fault> Of(Week week, Func<string, bool> isFaultFree, bool isCrewComplete) =>
        DuplicateFaults.Of(week)
            .Concat(ReferenceFaults.Of(week, isFaultFree))
            .Concat(CycleFaults.Of(week))
            .Concat(TimeFaults.Of(week))
            .Concat(isCrewComplete ? CrewFaults.Of(week, isFaultFree) : [])
            .Concat(DisplayFaults.Of(week))
            .Concat(NumberFaults.Of(week))
            .Concat(PinFaults.Of(week));
}
