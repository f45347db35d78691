using OneOf;
using SetWeek.Model.Files.Shapes;
using SetWeek.Model.Files.Texts;
using SetWeek.Model.Files.Validation;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Files;

/// <summary>A week as a file (docs/formats.md, docs/schemas/week.schema.json).</summary>
public static class WeekFile
{
    /// <summary>A valid week, or everything wrong with the file.</summary>
    public static OneOf<Week, FaultReport> Read(ReadOnlyMemory<byte> json) => JsonCursor.Read(json, Read);

    /// <summary>The week at a place of a larger text; its faults are noted there.</summary>
    public static Week Read(JsonCursor cursor)
    {
        var week = WeekReader.Week(cursor);
        cursor.AddFaults(WeekFaults.Of(week, pointer => cursor.IsFaultFree(cursor.Pointer + pointer))
            .Select(fault => fault with { Pointer = cursor.Pointer + fault.Pointer }));
        return week;
    }

    /// <summary>A week that was made in code: itself, or what a file of it would be refused for.</summary>
    public static OneOf<Week, FaultReport> Check(Week week) => Read(Write(week));

    /// <summary>The same week gives the same bytes. What is absent or as by default is left out.</summary>
    public static byte[] Write(Week week) => WeekWriter.Of(week);
}
