using System.Text.Json;
using System.Text.RegularExpressions;
using System.Text.Unicode;
using NodaTime;
using OneOf;

namespace SetWeek.Model.Json;

/// <summary>
/// A position in a JSON text that is being read. Bad input never throws: the method adds a fault with its JSON Pointer
/// (RFC 6901) and returns a placeholder (an empty string, the least number, an empty list, the default time). So one pass
/// finds every fault. <see cref="Read{T}(ReadOnlyMemory{byte}, Func{JsonCursor, T}, int)"/> returns the value only if there
/// are none.
/// </summary>
/// <example><code>
/// JsonCursor.Read(body, root => root.Object(at => new ReportLateKit(at.Id("kit"), at.LocalTime("eta"))));
/// </code></example>
public sealed partial class JsonCursor
{
    /// <summary>Largest size of a text in bytes, unless the caller sets another.</summary>
    public const int MaxBytes = 8 * 1024 * 1024;

    /// <summary>Most characters of an id, a word and a text, unless the caller sets another.</summary>
    public const int MaxIdLength = 100, MaxWordLength = 64, MaxTextLength = 200;

    private readonly JsonElement element;

    /// <summary>Null if a fault further up is already reported, so that this position adds none.</summary>
    private readonly FaultCollector? faults;

    private JsonCursor(JsonElement element, string pointer, FaultCollector? faults) =>
        (this.element, Pointer, this.faults) = (element, pointer, faults);

    /// <summary>JSON Pointer (RFC 6901) of this position; empty for the root.</summary>
    public string Pointer { get; }

    /// <summary>True if the value is null.</summary>
    public bool IsNull => element.ValueKind == JsonValueKind.Null;

    /// <summary>True if the value is an object.</summary>
    public bool IsObject => element.ValueKind == JsonValueKind.Object;

    /// <summary>True if the value is a list.</summary>
    public bool IsList => element.ValueKind == JsonValueKind.Array;

    /// <summary>Reads a JSON text.</summary>
    /// <typeparam name="T">Type of the result.</typeparam>
    /// <param name="json">The text, UTF-8, with or without a byte order mark.</param>
    /// <param name="read">Reads the root. It is not called if the text is too long, not UTF-8, or not JSON.</param>
    /// <param name="mostBytes">Largest size in bytes.</param>
    /// <returns>The result of <paramref name="read"/>, or every fault of the text.</returns>
    public static OneOf<T, FaultReport> Read<T>(ReadOnlyMemory<byte> json, Func<JsonCursor, T> read, int mostBytes = MaxBytes)
    {
        if (json.Length > mostBytes)
            return Refuse($"This is {json.Length:N0} bytes long; at most {mostBytes:N0} are read.");
        if (json.Span.StartsWith("\uFEFF"u8)) json = json[3..];
        if (!Utf8.IsValid(json.Span)) return Refuse("This is not UTF-8 text; save it as UTF-8.");
        if (json.Span.IndexOfAnyExcept(" \t\r\n"u8) < 0) return Refuse("This is empty; JSON is expected.");
        try
        {
            using var document = JsonDocument.Parse(json);
            return Read(document.RootElement, read);
        }
        catch (JsonException broken)
        {
            return Refuse(
                $"This is not JSON: reading stopped at line {broken.LineNumber + 1}, byte {broken.BytePositionInLine + 1}. "
                + "Look there for a missing comma, quote or bracket, or for nesting deeper than 64.");
        }

        static FaultReport Refuse(string detail) => new([new Fault("", detail)]);
    }

    /// <summary>Reads a parsed JSON value.</summary>
    /// <typeparam name="T">Type of the result.</typeparam>
    /// <param name="root">The value.</param>
    /// <param name="read">Reads it.</param>
    /// <returns>The result of <paramref name="read"/>, or every fault of the value.</returns>
    public static OneOf<T, FaultReport> Read<T>(JsonElement root, Func<JsonCursor, T> read)
    {
        var faults = new FaultCollector();
        var value = read(new JsonCursor(root, "", faults));
        return faults.Any ? faults.InOrderOf(root) : value;
    }

    /// <summary>Adds a fault at this position.</summary>
    public void AddFault(string detail) => faults?.Add(new Fault(Pointer, detail));

    /// <summary>Adds faults that a later check has found. Their pointers are absolute.</summary>
    public void AddFaults(IEnumerable<Fault> found)
    {
        if (faults is null) return;
        foreach (var fault in found)
        {
            faults.Add(fault);
            if (faults.IsTruncated) return;
        }
    }

    /// <summary>
    /// True if no fault is known at the pointer, below it, or above it. Faults of the root do not count as above.
    /// </summary>
    public bool IsFaultFree(string pointer) => faults?.IsFaultFree(pointer) ?? false;

    /// <summary>Reads an object. Fields that <paramref name="read"/> does not ask for are faults.</summary>
    public T Object<T>(Func<JsonFields, T> read)
    {
        var right = HasKind(JsonValueKind.Object, "an object, { ... }");
        var fields = new JsonFields(right ? this : WithoutReporting());
        var value = read(fields);
        fields.RejectUnknownFields();
        return value;
    }

    /// <summary>The value as it is, unchecked.</summary>
    public JsonElement RawElement() => element.ValueKind == JsonValueKind.Undefined ? default : element.Clone();

    /// <summary>Reads a list with <paramref name="least"/> to <paramref name="most"/> elements.</summary>
    /// <returns>
    /// One value for each element, placeholders included, so that its index is the index in the text. Empty if there are too
    /// many.
    /// </returns>
    public IReadOnlyList<T> List<T>(Func<JsonCursor, T> item, int most, int least = 0)
    {
        if (!HasKind(JsonValueKind.Array, "a list, [ ... ]")) return [];
        var count = element.GetArrayLength();
        if (count > most) AddFault($"There are {count:N0} here; at most {most:N0} are allowed.");
        if (count < least) AddFault($"There are {count:N0} here; at least {least:N0} must be given.");
        return count > most ? []
            : [.. element.EnumerateArray().Select((child, index) => item(new JsonCursor(child, $"{Pointer}/{index}", faults)))];
    }

    /// <summary>Reads an object whose field names are data: at most <paramref name="most"/> fields, no name twice.</summary>
    public IReadOnlyDictionary<string, T> Map<T>(Func<JsonCursor, T> value, int most)
    {
        var map = new Dictionary<string, T>();
        if (!HasKind(JsonValueKind.Object, "an object, { ... }")) return map;
        foreach (var property in element.EnumerateObject())
        {
            var child = Child(JsonPointer.NameOf(property), property.Value);
            if (map.Count == most && !map.ContainsKey(JsonPointer.NameOf(property)))
            {
                AddFault($"There are too many here; at most {most:N0} are allowed.");
                return map;
            }
            child.CheckText(JsonPointer.NameOf(property), 1, MaxWordLength, "The name");
            if (!map.TryAdd(JsonPointer.NameOf(property), value(child))) child.AddFault("This name is given twice; keep one.");
        }
        return map;
    }

    /// <summary>Reads an id: [a-z0-9][a-z0-9.-]*, at most <see cref="MaxIdLength"/> characters.</summary>
    public string Id()
    {
        if (!TryGetString(out var text)) return "";
        if (text.Length <= MaxIdLength && IdPattern().IsMatch(text)) return text;
        AddFault(text.Length > MaxIdLength
            ? $"{QuotedInput.Of(text)} is longer than the {MaxIdLength} characters of an id; shorten it."
            : $"{QuotedInput.Of(text)} is not an id; use lowercase letters, digits, dots and hyphens, and begin with a letter or "
                + "digit.");
        return "";
    }

    /// <summary>Reads a skill, a trait or an item: a text of at most <see cref="MaxWordLength"/> characters.</summary>
    public string Word() => Text(MaxWordLength);

    /// <summary>Reads a text on one line: without control characters and, if it must have any, not blank.</summary>
    public string Text(int longest = MaxTextLength, int shortest = 1) =>
        TryGetString(out var text) && CheckText(text, shortest, longest, "The text") ? text : "";

    /// <summary>Reads a whole number from <paramref name="least"/> to <paramref name="most"/>.</summary>
    public int Int(int least, int most) => (int)Long(least, most);

    /// <summary>Reads a whole number from <paramref name="least"/> to <paramref name="most"/>.</summary>
    public long Long(long least, long most)
    {
        if (!HasKind(JsonValueKind.Number, "a number")) return least;
        // 5.0 is a whole number, as in JSON Schema.
        if (!element.TryGetDecimal(out var number) || number < least || number > most)
            AddFault($"{QuotedInput.Of(element.GetRawText())[1..^1]} is out of range; "
                + $"give a whole number from {least:0} to {most:0}.");
        else if (decimal.Truncate(number) != number)
            AddFault($"{QuotedInput.Of(element.GetRawText())[1..^1]} is not a whole number; "
                + $"give one from {least:0} to {most:0}.");
        else return (long)number;
        return least;
    }

    /// <summary>Reads true or false.</summary>
    public bool Flag()
    {
        if (element.ValueKind is JsonValueKind.True or JsonValueKind.False) return element.GetBoolean();
        HasKind(JsonValueKind.True, "true or false");
        return false;
    }

    /// <summary>Reads a value of an enum, written in camelCase. The placeholder is its first value.</summary>
    public T Choice<T>() where T : struct, Enum
    {
        var names = Enum.GetNames<T>().Select(JsonNamingPolicy.CamelCase.ConvertName).ToList();
        return Enum.GetValues<T>()[Math.Max(0, names.IndexOf(Choice([.. names])))];
    }

    /// <summary>Reads one of the given texts. The placeholder is the first.</summary>
    public string Choice(params ReadOnlySpan<string> choices)
    {
        if (!TryGetString(out var text)) return choices[0];
        if (choices.Contains(text)) return text;
        AddFault($"{QuotedInput.Of(text)} is not known here; give one of {string.Join(", ", choices!)}.");
        return choices[0];
    }

    /// <summary>Reads a store-local time such as 2027-03-08T21:30.</summary>
    public LocalDateTime LocalTime() =>
        TryGetString(out var text) && CheckText(text, TimePatterns.Read(text, out LocalDateTime time)) ? time : default;

    /// <summary>Reads a date such as 2027-03-08.</summary>
    public LocalDate Date() =>
        TryGetString(out var text) && CheckText(text, TimePatterns.Read(text, out LocalDate date)) ? date : default;

    /// <summary>Reads a time of day such as 22:00.</summary>
    public LocalTime ClockTime() =>
        TryGetString(out var text) && CheckText(text, TimePatterns.Read(text, out LocalTime time)) ? time : default;

    /// <summary>Reads an RFC 3339 time with its offset.</summary>
    public OffsetDateTime Time() =>
        TryGetString(out var text) && CheckText(text, TimePatterns.Read(text, out OffsetDateTime time)) ? time : default;

    internal JsonElement.ObjectEnumerator Properties() => element.EnumerateObject();

    internal JsonCursor Child(string name, JsonElement value) => new(value, PointerTo(name), faults);

    internal JsonCursor Missing(string name) => new(default, PointerTo(name), null);

    internal void AddFault(string name, string detail) => faults?.Add(new Fault(PointerTo(name), detail));

    private JsonCursor WithoutReporting() => new(default, Pointer, null);

    private string PointerTo(string name) => JsonPointer.To(Pointer, name);

    private bool HasKind(JsonValueKind kind, string expected)
    {
        if (element.ValueKind == kind) return true;
        AddFault(IsNull ? $"This is null; give {expected}, or leave the field out if it is optional."
            : $"This is {KindPhrase(element.ValueKind)}; give {expected}.");
        return false;
    }

    private bool TryGetString(out string text)
    {
        text = "";
        if (!HasKind(JsonValueKind.String, "a text in quotes")) return false;
        try
        {
            text = element.GetString()!;
            return true;
        }
        catch (InvalidOperationException)
        {
            AddFault("This contains half of a surrogate pair (a \\ud800 to \\udfff without its other half); remove it.");
            return false;
        }
    }

    private bool CheckText(string text, int shortest, int longest, string what)
    {
        var length = text.EnumerateRunes().Count();
        if (length > longest) AddFault($"{what} is {length:N0} characters long; at most {longest:N0} are allowed.");
        else if (shortest > 0 && string.IsNullOrWhiteSpace(text))
            AddFault($"{what} is empty or blank; give at least one visible character.");
        else if (text.Any(char.IsControl)) AddFault($"{QuotedInput.Of(text)} contains control characters; remove them.");
        else if (text.Any(TurnsWriting))
            AddFault($"{QuotedInput.Of(text)} contains invisible characters that turn the direction of writing; remove them.");
        else return true;
        return false;
    }

    /// <summary>
    /// Embeddings, overrides and isolates (Unicode Standard Annex 9, sections 2.1 to 2.5): left open, they turn what follows the
    /// text on a page. The marks of section 2.6 turn nothing else, and stay.
    /// </summary>
    private static bool TurnsWriting(char sign) => sign is >= '\u202a' and <= '\u202e' or >= '\u2066' and <= '\u2069';

    private bool CheckText(string text, string? wrong)
    {
        if (wrong is not null) AddFault($"{QuotedInput.Of(text)} {wrong}.");
        return wrong is null;
    }

    private static string KindPhrase(JsonValueKind kind) => kind switch
    {
        JsonValueKind.Object => "an object",
        JsonValueKind.Array => "a list",
        JsonValueKind.String => "a text",
        JsonValueKind.Number => "a number",
        JsonValueKind.True or JsonValueKind.False => "true or false",
        _ => "nothing",
    };

    [GeneratedRegex(@"^[a-z0-9][a-z0-9.-]*\z")]
    private static partial Regex IdPattern();
}
