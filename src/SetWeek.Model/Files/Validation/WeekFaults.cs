using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Validation;

/// <summary>What only the whole week shows: everything that its fields, each right in itself, get wrong together.</summary>
/// <remarks>
/// Some of the fields may be placeholders for what could not be read ("", the default time). Nothing is said of those, and
/// <c>sound</c> tells of a pointer whether all at it and below it could be read.
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
            .Concat(NumberFaults.Of(week));
}
