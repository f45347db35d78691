using System.Text.Json;
using NodaTime;

namespace SetWeek.Model.Json;

/// <summary>
/// Reads the fields of one JSON object by name. Fields that are never asked for, and fields given twice, are faults. A method
/// without "Optional" in its name reads a required field, unless it takes or states a default. Placeholders and faults are
/// those of <see cref="JsonCursor"/>.
/// </summary>
public sealed class JsonFields
{
    private readonly JsonCursor cursor;
    private readonly Dictionary<string, JsonElement> given = [];
    private readonly HashSet<string> asked = [];

    internal JsonFields(JsonCursor cursor)
    {
        this.cursor = cursor;
        if (!cursor.IsObject) return;
        foreach (var property in cursor.Properties())
            if (!given.TryAdd(JsonPointer.NameOf(property), property.Value))
                cursor.AddFault(JsonPointer.NameOf(property), "This field is given twice; keep one.");
    }

    /// <summary>JSON Pointer (RFC 6901) of the object.</summary>
    public string Pointer => cursor.Pointer;

    /// <summary>True if the field is given, even as null. It is not yet counted as asked for.</summary>
    public bool Has(string name) => given.ContainsKey(name);

    /// <summary>The position of a required field. A missing field is a fault.</summary>
    public JsonCursor Required(string name)
    {
        if (Optional(name) is { } field) return field;
        cursor.AddFault(name, "This field is missing; give it.");
        return cursor.Missing(name);
    }

    /// <summary>The position of a field, or null if it is absent.</summary>
    public JsonCursor? Optional(string name)
    {
        asked.Add(name);
        return given.TryGetValue(name, out var value) ? cursor.Child(name, value) : null;
    }

    /// <summary>Adds a fault of the object.</summary>
    public void AddFault(string detail) => cursor.AddFault(detail);

    /// <summary>Adds a fault of a field.</summary>
    public void AddFault(string name, string detail) => cursor.AddFault(name, detail);

    /// <summary>True if no fault of the field is known.</summary>
    internal bool IsFaultFree(string name) => cursor.IsFaultFree(JsonPointer.To(cursor.Pointer, name));

    /// <summary>Accepts all fields that were not asked for.</summary>
    internal void IgnoreRest() => asked.UnionWith(given.Keys);

    /// <summary>Reads a required id.</summary>
    public string Id(string name) => Required(name).Id();

    /// <summary>Reads an id; null if the field is absent.</summary>
    public string? OptionalId(string name) => Optional(name)?.Id();

    /// <summary>Reads a required word: a skill, a trait or an item.</summary>
    public string Word(string name) => Required(name).Word();

    /// <summary>Reads a word; null if the field is absent.</summary>
    public string? OptionalWord(string name) => Optional(name)?.Word();

    /// <summary>Reads a required text of at most <paramref name="longest"/> characters.</summary>
    public string Text(string name, int longest = JsonCursor.MaxTextLength) => Required(name).Text(longest);

    /// <summary>Reads a text of at most <paramref name="longest"/> characters; null if the field is absent.</summary>
    public string? OptionalText(string name, int longest = JsonCursor.MaxTextLength) => Optional(name)?.Text(longest);

    /// <summary>Reads a required whole number in the range.</summary>
    public int Int(string name, int least, int most) => Required(name).Int(least, most);

    /// <summary>Reads a whole number in the range; <paramref name="otherwise"/> if the field is absent.</summary>
    public int Int(string name, int least, int most, int otherwise) => Optional(name)?.Int(least, most) ?? otherwise;

    /// <summary>Reads a whole number in the range; null if the field is absent.</summary>
    public int? OptionalInt(string name, int least, int most) => Optional(name)?.Int(least, most);

    /// <summary>Reads a required whole number in the range.</summary>
    public long Long(string name, long least, long most) => Required(name).Long(least, most);

    /// <summary>Reads true or false; false if the field is absent.</summary>
    public bool Flag(string name) => Optional(name)?.Flag() ?? false;

    /// <summary>Reads a required value of an enum, written in camelCase.</summary>
    public T Choice<T>(string name) where T : struct, Enum => Required(name).Choice<T>();

    /// <summary>Reads a required field that holds one of the given texts.</summary>
    public string Choice(string name, params ReadOnlySpan<string> choices) => Required(name).Choice(choices);

    /// <summary>Reads a required store-local time.</summary>
    public LocalDateTime LocalTime(string name) => Required(name).LocalTime();

    /// <summary>Reads a store-local time; null if the field is absent.</summary>
    public LocalDateTime? OptionalLocalTime(string name) => Optional(name)?.LocalTime();

    /// <summary>Reads a required store-local time that may be null.</summary>
    public LocalDateTime? NullableLocalTime(string name) => Required(name) is { IsNull: false } field ? field.LocalTime() : null;

    /// <summary>Reads a required date.</summary>
    public LocalDate Date(string name) => Required(name).Date();

    /// <summary>Reads a date; null if the field is absent.</summary>
    public LocalDate? OptionalDate(string name) => Optional(name)?.Date();

    /// <summary>Reads a time of day; null if the field is absent.</summary>
    public LocalTime? OptionalClockTime(string name) => Optional(name)?.ClockTime();

    /// <summary>Reads a required time with its offset (RFC 3339).</summary>
    public OffsetDateTime Time(string name) => Required(name).Time();

    /// <summary>Reads a time with its offset (RFC 3339); null if the field is absent.</summary>
    public OffsetDateTime? OptionalTime(string name) => Optional(name)?.Time();

    /// <summary>Reads a required list with <paramref name="least"/> to <paramref name="most"/> elements.</summary>
    public IReadOnlyList<T> List<T>(string name, Func<JsonCursor, T> item, int most, int least = 0) =>
        Required(name).List(item, most, least);

    /// <summary>Reads a list of at most <paramref name="most"/> elements; empty if the field is absent.</summary>
    public IReadOnlyList<T> OptionalList<T>(string name, Func<JsonCursor, T> item, int most) =>
        Optional(name)?.List(item, most) ?? [];

    /// <summary>Reads a required object.</summary>
    public T Object<T>(string name, Func<JsonFields, T> read) => Required(name).Object(read);

    /// <summary>Reads an object; null if the field is absent.</summary>
    public T? OptionalObject<T>(string name, Func<JsonFields, T> read) where T : class => Optional(name)?.Object(read);

    /// <summary>Adds a fault for each field that was not asked for.</summary>
    internal void RejectUnknownFields()
    {
        foreach (var name in given.Keys.Where(name => !asked.Contains(name)).Take(FaultCollector.MaxFaults + 1))
            cursor.AddFault(name, $"The field {QuotedInput.Of(name)} is not known here; remove it, or look for a misspelling of "
                + $"{SimilarNames(name)}.");
    }

    /// <summary>The names asked for that share the first three letters, or else all of them.</summary>
    private string SimilarNames(string name)
    {
        List<string> similar =
            [.. asked.Where(known => known.AsSpan(0, Math.Min(3, known.Length))
                .Equals(name.AsSpan(0, Math.Min(3, name.Length)), StringComparison.OrdinalIgnoreCase))];
        return string.Join(", ", similar.Count > 0 ? similar : [.. asked]);
    }
}
