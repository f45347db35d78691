using System.Text.Encodings.Web;
using System.Text.Json;
using NodaTime;

namespace SetWeek.Model.Json;

/// <summary>
/// How our files are written: one space a level, fields in the order of docs/formats.md, nothing that is absent.
/// </summary>
internal static class JsonWriterExtensions
{
    // Names stay readable and an offset stays +00:00; whoever puts a file into a page escapes it there.
    private static readonly JsonWriterOptions Style = new()
    {
        Indented = true, IndentSize = 1, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    public static byte[] Bytes(Action<Utf8JsonWriter> write)
    {
        using var buffer = new MemoryStream();
        using (var json = new Utf8JsonWriter(buffer, Style)) write(json);
        buffer.WriteByte((byte)'\n');
        return buffer.ToArray();
    }

    public static void Object(this Utf8JsonWriter json, Action write)
    {
        json.WriteStartObject();
        write();
        json.WriteEndObject();
    }

    public static void Object(this Utf8JsonWriter json, string name, Action write)
    {
        json.WritePropertyName(name);
        json.Object(write);
    }

    public static void Text(this Utf8JsonWriter json, string name, string? value)
    {
        if (value is not null) json.WriteString(name, value);
    }

    public static void Time(this Utf8JsonWriter json, string name, LocalDateTime? value) =>
        json.Text(name, value is { } time ? TimePatterns.Write(time) : null);
    public static void Time(this Utf8JsonWriter json, string name, OffsetDateTime? value) =>
        json.Text(name, value is { } time ? TimePatterns.Write(time) : null);

    public static void Number(this Utf8JsonWriter json, string name, long? value)
    {
        if (value is { } number) json.WriteNumber(name, number);
    }

    public static void NumberUnlessDefault(this Utf8JsonWriter json, string name, int value, int defaultValue)
    {
        if (value != defaultValue) json.WriteNumber(name, value);
    }

    public static void Flag(this Utf8JsonWriter json, string name, bool value)
    {
        if (value) json.WriteBoolean(name, value);
    }

    public static void List<T>(this Utf8JsonWriter json, string name, IEnumerable<T> items, Action<T> write)
    {
        json.WriteStartArray(name);
        foreach (var item in items) write(item);
        json.WriteEndArray();
    }

    public static void ListUnlessEmpty<T>(this Utf8JsonWriter json, string name, IReadOnlyCollection<T> items, Action<T> write)
    {
        if (items.Count > 0) json.List(name, items, write);
    }
}
