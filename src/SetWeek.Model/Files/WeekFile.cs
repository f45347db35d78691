using OneOf;
using SetWeek.Model.Files.Shapes;
using SetWeek.Model.Files.Texts;
using SetWeek.Model.Files.Validation;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files;

/// <summary>Reads, checks and writes week files (docs/formats.md, docs/schemas/week.schema.json).</summary>
public static class WeekFile
{
    /// <summary>Reads a week from the bytes of a file, UTF-8.</summary>
    /// <returns>A valid week, or every fault of the file.</returns>
    public static OneOf<Week, FaultReport> Read(ReadOnlyMemory<byte> json) => JsonCursor.Read(json, Read);

    /// <summary>
    /// Reads a week that is part of a larger JSON text. Faults are added to the cursor; the week is valid if there are none.
    /// </summary>
    public static Week Read(JsonCursor cursor) => Read(cursor, isCrewComplete: true);

    private static Week Read(JsonCursor cursor, bool isCrewComplete)
    {
        var week = WeekReader.Week(cursor);
        cursor.AddFaults(WeekFaults.Of(week, pointer => cursor.IsFaultFree(cursor.Pointer + pointer), isCrewComplete)
            .Select(fault => fault with { Pointer = cursor.Pointer + fault.Pointer }));
        return week;
    }

    /// <summary>The week as its file would be read back, or every fault for which that file would be refused.</summary>
    /// <param name="week">The week.</param>
    /// <param name="isCrewComplete">Whether work that nobody in the crew can do is a fault: people may join later.</param>
    public static OneOf<Week, FaultReport> Check(Week week, bool isCrewComplete = true) =>
        JsonCursor.Read(Write(week), cursor => Read(cursor, isCrewComplete));

    /// <summary>
    /// The bytes of the week's file, UTF-8. Equal weeks give equal bytes. Absent values and defaults are left out.
    /// </summary>
    public static byte[] Write(Week week) => WeekWriter.Of(week);
}
