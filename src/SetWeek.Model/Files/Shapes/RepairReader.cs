using SetWeek.Model.Changes;
using SetWeek.Model.Changes.Format;
using SetWeek.Model.Json;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Shapes;

/// <summary>
/// Reads a repair: the fields of its change, its goal values and its sentence. A further change is under "and", which may have
/// an "and" of its own.
/// </summary>
internal static class RepairReader
{
    /// <summary>Reads a repair. Faults are added to the cursor.</summary>
    public static Repair Repair(JsonCursor cursor) => cursor.Object(at => new Repair(Changes(at),
        at.OptionalList("goals", PlanReader.Goal, WeekLimits.Goals), at.Text("sentence", WeekLimits.SentenceLength)));

    private static WeekChange[] Changes(JsonFields at) =>
        [AllChanges.Read(at), .. at.OptionalObject("and", Changes) ?? []];
}
