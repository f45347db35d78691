using System.Text.Json;
using NodaTime;

namespace SetWeek.Model.Json;

/// <summary>
/// The fields of one JSON object, asked for by name. Fields that nobody asked for, and fields given twice, are faults.
/// Required fields are asked for by the plain name of their kind, others by Optional... or with a value to go on with.
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

    public string Pointer => cursor.Pointer;

    public bool Has(string name) => given.ContainsKey(name);

    /// <summary>The place of a field; one that is missing is a fault.</summary>
    public JsonCursor Required(string name)
    {
        if (Optional(name) is { } there) return there;
        cursor.AddFault(name, $"The field {name} is missing; give it.");
        return cursor.Missing(name);
    }

    /// <summary>The place of a field, or null where it is not given.</summary>
    public JsonCursor? Optional(string name)
    {
        asked.Add(name);
        return given.TryGetValue(name, out var value) ? cursor.Child(name, value) : null;
    }

    /// <summary>Notes that something is wrong with the object.</summary>
    public void AddFault(string detail) => cursor.AddFault(detail);

    /// <summary>Notes that something is wrong with a field.</summary>
    public void AddFault(string name, string detail) => cursor.AddFault(name, detail);

    /// <summary>Nothing is known to be wrong with a field.</summary>
    internal bool IsFaultFree(string name) => cursor.IsFaultFree(JsonPointer.To(cursor.Pointer, name));

    /// <summary>Nothing more is said of what is given here.</summary>
    internal void IgnoreRest() => asked.UnionWith(given.Keys);

    public string Id(string name) => Required(name).Id();
    public string? OptionalId(string name) => Optional(name)?.Id();
    public string Word(string name) => Required(name).Word();
    public string? OptionalWord(string name) => Optional(name)?.Word();
    public string Text(string name, int longest = JsonCursor.MaxTextLength) => Required(name).Text(longest);
    public string? OptionalText(string name, int longest = JsonCursor.MaxTextLength) => Optional(name)?.Text(longest);

    public int Int(string name, int least, int most) => Required(name).Int(least, most);
    public int Int(string name, int least, int most, int otherwise) => Optional(name)?.Int(least, most) ?? otherwise;
    public int? OptionalInt(string name, int least, int most) => Optional(name)?.Int(least, most);
    public long Long(string name, long least, long most) => Required(name).Long(least, most);

    /// <summary>False unless given.</summary>
    public bool Flag(string name) => Optional(name)?.Flag() ?? false;

    public T Choice<T>(string name) where T : struct, Enum => Required(name).Choice<T>();
    public string Choice(string name, params ReadOnlySpan<string> choices) => Required(name).Choice(choices);

    public LocalDateTime LocalTime(string name) => Required(name).LocalTime();
    public LocalDateTime? OptionalLocalTime(string name) => Optional(name)?.LocalTime();

    /// <summary>Must be given, and may be null.</summary>
    public LocalDateTime? NullableLocalTime(string name) => Required(name) is { IsNull: false } there ? there.LocalTime() : null;

    public LocalTime? OptionalClockTime(string name) => Optional(name)?.ClockTime();

    public OffsetDateTime Time(string name) => Required(name).Time();
    public OffsetDateTime? OptionalTime(string name) => Optional(name)?.Time();

    public IReadOnlyList<T> List<T>(string name, Func<JsonCursor, T> item, int most, int least = 0) =>
        Required(name).List(item, most, least);
    public IReadOnlyList<T> OptionalList<T>(string name, Func<JsonCursor, T> item, int most) =>
        Optional(name)?.List(item, most) ?? [];

    public T Object<T>(string name, Func<JsonFields, T> read) => Required(name).Object(read);

    public T? OptionalObject<T>(string name, Func<JsonFields, T> read) where T : class => Optional(name)?.Object(read);

    internal void RejectUnknownFields()
    {
        foreach (var name in given.Keys.Where(name => !asked.Contains(name)).Take(FaultCollector.MaxFaults + 1))
            cursor.AddFault(name, $"The field {QuotedInput.Of(name)} is not known here; remove it, or look for a misspelling of "
                + $"{SimilarNames(name)}.");
    }

    /// <summary>The names asked for that begin alike, else all of them.</summary>
    private string SimilarNames(string name)
    {
        List<string> alike =
            [.. asked.Where(known => known.AsSpan(0, Math.Min(3, known.Length))
                .Equals(name.AsSpan(0, Math.Min(3, name.Length)), StringComparison.OrdinalIgnoreCase))];
        return string.Join(", ", alike.Count > 0 ? alike : [.. asked]);
    }
}
