using System.Text.Json;
using SetWeek.Scheduling.Changes;

namespace SetWeek.Scheduling.Files;

/// <summary>A change to a week as an object of its own, and changes at a place of a larger text.</summary>
public static class ChangeShape
{
    /// <summary>More at once is another week.</summary>
    private const int Most = 50;

    public static WeekChange Change(JsonCursor cursor) => cursor.Object(AllChanges.Read);

    /// <summary>Changes that fit a week; what they name and the week does not have is noted as a fault.</summary>
    public static IReadOnlyList<WeekChange> Changes(JsonCursor cursor, Week week)
    {
        var (changes, known) = (cursor.List(Change, Most), new WeekIds(week));
        cursor.Report(changes.Index().SelectMany(change => Faults($"{cursor.Pointer}/{change.Index}", change.Item, known)));
        return changes;
    }

    internal static IEnumerable<Fault> Faults(string at, WeekChange change, WeekIds known) =>
        change.Faults(known).OfType<Fault>().Select(fault => fault with { Pointer = at + fault.Pointer });

    internal static void Write(Utf8JsonWriter json, WeekChange change) => json.Object(() => Fields(json, change));

    internal static void Fields(Utf8JsonWriter json, WeekChange change)
    {
        json.Text("kind", change.Kind);
        change.Write(json);
    }
}
