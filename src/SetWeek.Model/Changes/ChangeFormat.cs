using System.Text.Json;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Changes;

/// <summary>A change to a week as JSON: an object of its own, or fields among others.</summary>
public static class ChangeFormat
{
    public static WeekChange Read(JsonCursor cursor) => cursor.Object(Read);

    public static WeekChange Read(JsonFields at) => AllChanges.Read(at);

    /// <summary>What a change names and the week does not have; pointers are into the change.</summary>
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
