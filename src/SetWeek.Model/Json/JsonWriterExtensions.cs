using System.Text.Encodings.Web;
using System.Text.Json;
using NodaTime;

namespace SetWeek.Model.Json;

/// <summary>
/// Writes JSON in the style of the project's files: one space per level, and no absent fields. Fields are in the order of
/// docs/formats.md.
/// </summary>
internal static class JsonWriterExtensions
{
    // Non-ASCII letters and the plus sign of an offset stay readable. A page that shows a file must escape it.
    private static readonly JsonWriterOptions Style = new()
    {
        Indented = true, IndentSize = 1, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>The UTF-8 bytes of what is written, with a final line break.</summary>
    public static byte[] Bytes(Action<Utf8JsonWriter> write)
    {
        using var buffer = new MemoryStream();
        using (var json = new Utf8JsonWriter(buffer, Style)) write(json);
        buffer.WriteByte((byte)'\n');
        return buffer.ToArray();
    }

    /// <summary>Writes an object.</summary>
    public static void Object(this Utf8JsonWriter json, Action write)
    {
        json.WriteStartObject();
        write();
        json.WriteEndObject();
    }

    /// <summary>Writes a field that holds an object.</summary>
    public static void Object(this Utf8JsonWriter json, string name, Action write)
    {
        json.WritePropertyName(name);
        json.Object(write);
    }

    /// <summary>Writes a text, unless it is null.</summary>
    public static void Text(this Utf8JsonWriter json, string name, string? value)
    {
        if (value is not null) json.WriteString(name, value);
    }

    /// <summary>Writes a store-local time, unless it is null.</summary>
    public static void Time(this Utf8JsonWriter json, string name, LocalDateTime? value) =>
        json.Text(name, value is { } time ? TimePatterns.Write(time) : null);

    /// <summary>Writes a time with its offset, unless it is null.</summary>
    public static void Time(this Utf8JsonWriter json, string name, OffsetDateTime? value) =>
        json.Text(name, value is { } time ? TimePatterns.Write(time) : null);

    /// <summary>Writes a number, unless it is null.</summary>
    public static void Number(this Utf8JsonWriter json, string name, long? value)
    {
        if (value is { } number) json.WriteNumber(name, number);
    }

    /// <summary>Writes a number, unless it is the default.</summary>
    public static void NumberUnlessDefault(this Utf8JsonWriter json, string name, int value, int defaultValue)
    {
        if (value != defaultValue) json.WriteNumber(name, value);
    }

    /// <summary>Writes true; nothing for false.</summary>
    public static void Flag(this Utf8JsonWriter json, string name, bool value)
    {
        if (value) json.WriteBoolean(name, value);
    }

    /// <summary>Writes a list, even if it is empty.</summary>
    public static void List<T>(this Utf8JsonWriter json, string name, IEnumerable<T> items, Action<T> write)
    {
        json.WriteStartArray(name);
        foreach (var item in items) write(item);
        json.WriteEndArray();
    }

    /// <summary>Writes a list, unless it is empty.</summary>
    public static void ListUnlessEmpty<T>(this Utf8JsonWriter json, string name, IReadOnlyCollection<T> items, Action<T> write)
    {
        if (items.Count > 0) json.List(name, items, write);
    }
}
