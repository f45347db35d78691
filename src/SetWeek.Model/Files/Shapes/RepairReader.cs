using SetWeek.Model.Changes;
using SetWeek.Model.Json;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files.Shapes;

/// <summary>A repair: the fields of its change, a second change under "and" where it takes two, and what comes of it.</summary>
internal static class RepairReader
{
    public static Repair Repair(JsonCursor cursor) => cursor.Object(at =>
    {
        var change = AllChanges.Read(at);
        return new Repair([change, .. at.OptionalObject("and", AllChanges.Read) is { } second ? [second] : (WeekChange[])[]],
            at.OptionalList("goals", PlanReader.Goal, WeekLimits.Goals), at.Text("sentence", WeekLimits.SentenceLength));
    });
}
