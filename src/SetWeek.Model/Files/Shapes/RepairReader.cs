using SetWeek.Model.Changes;
using SetWeek.Model.Changes.Format;
using SetWeek.Model.Json;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Shapes;

/// <summary>
/// Reads a repair: the fields of its change, an optional second change under "and", its goal values and its sentence.
/// </summary>
internal static class RepairReader
{
    /// <summary>Reads a repair. Faults are added to the cursor.</summary>
    public static Repair Repair(JsonCursor cursor) => cursor.Object(at =>
    {
        var change = AllChanges.Read(at);
        return new Repair([change, .. at.OptionalObject("and", AllChanges.Read) is { } second ? [second] : (WeekChange[])[]],
            at.OptionalList("goals", PlanReader.Goal, WeekLimits.Goals), at.Text("sentence", WeekLimits.SentenceLength));
    });
}
