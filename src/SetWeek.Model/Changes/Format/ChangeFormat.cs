using System.Text.Json;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes.Format;

/// <summary>Reads and writes a change as JSON, either as an object of its own or as fields of another object.</summary>
public static class ChangeFormat
{
    /// <summary>Reads a change that is an object of its own. Faults are added to the cursor.</summary>
    public static WeekChange Read(JsonCursor cursor) => cursor.Object(Read);

    /// <summary>Reads a change from the fields of an object. Faults are added to the fields.</summary>
    public static WeekChange Read(JsonFields at) => AllChanges.Read(at);

    /// <summary>A fault for each id in the change that the week does not have. Pointers are relative to the change.</summary>
    public static IReadOnlyList<Fault> Faults(WeekChange change, Week week) => [.. Faults("", change, new WeekIds(week))];

    internal static IEnumerable<Fault> Faults(string at, WeekChange change, WeekIds known) =>
        change.Faults(known).OfType<Fault>().Select(fault => fault with { Pointer = at + fault.Pointer });

    internal static void Write(Utf8JsonWriter json, WeekChange change) => json.Object(() => WriteFields(json, change));

    internal static void WriteFields(Utf8JsonWriter json, WeekChange change)
    {
        json.Text("kind", change.Kind);
        change.Write(json);
    }
}
