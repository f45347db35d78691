using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using SetWeek.Model.Json;
using SetWeek.Service.Pages;

namespace SetWeek.Service.Http.Forms;

/// <summary>Builds the JSON that the fields of a form stand for. <see cref="FormPost"/> lists their kinds.</summary>
internal sealed partial class FormBody
{
    /// <summary>
    /// A row with an empty field of the first kind is left out, unless it has a number of the second or a text of the third.
    /// </summary>
    private const string RowKind = ":row", RowNumberKind = ":row-number", RowTextKind = ":row-text";

    /// <summary>The most levels of a name. One with more is a member of its own, which no slice knows.</summary>
    private const int MaxLevels = 16;

    private readonly JsonObject body = [];

    /// <summary>The rows of each list, by the object that has the list, and its name there.</summary>
    private readonly Dictionary<(JsonObject Owner, string List), SortedList<int, JsonObject>> lists = [];

    /// <summary>The objects that fields with levels make, by the object around each, and its name there.</summary>
    private readonly Dictionary<(JsonObject Outer, string Level), JsonObject> inners = [];

    /// <summary>The lists of what contradicts itself (<see cref="Put"/>).</summary>
    private readonly HashSet<JsonArray> saidTwice = [];

    /// <summary>What each field says that is no member itself.</summary>
    private readonly IReadOnlyDictionary<string, string> texts;

    private readonly Func<string, string> timeOf;
    private readonly Func<string> now;

    private FormBody(IReadOnlyDictionary<string, string> texts, Func<string, string> timeOf, Func<string> now) =>
        (this.texts, this.timeOf, this.now) = (texts, timeOf, now);

    /// <param name="timeOf">The time that a text says.</param>
    /// <param name="now">What an empty field of the kind "now" says.</param>
    /// <returns>The JSON, and where it has each field, as JSON Pointers (RFC 6901).</returns>
    public static (byte[] Json, IReadOnlyDictionary<string, string> Pointers) Of(
        IReadOnlyList<KeyValuePair<string, IReadOnlyList<string>>> fields, Func<string, string> timeOf, Func<string> now)
    {
        var form = new FormBody(
            fields.Where(field => field.Key.StartsWith(':')).ToDictionary(field => field.Key, field => field.Value[0]),
            timeOf, now);
        var leftOut = RowsLeftOut(fields);
        var used = fields.Where(field => !field.Key.StartsWith(':') && !RowsOf(field.Key).Any(leftOut.Contains)).ToList();
        foreach (var (field, values) in used)
            if (form.NameOf(field) is { } name) form.Add(name, values);
        foreach (var ((owner, list), rows) in form.lists)
        {
            if (owner[list] is JsonArray { Count: 0 }) owner.Remove(list); // it says that the list may be empty
            form.Put(owner, list, new JsonArray([.. rows.Values]));
        }
        var pointers = new Dictionary<string, string>();
        foreach (var (field, _) in used)
            if (form.NameOf(field) is { } name && form.PointerOf(name) is { } pointer)
                pointers[NamingOf(field) ?? field] = pointer;
        return (System.Text.Encoding.UTF8.GetBytes(form.body.ToJsonString()), pointers);
    }

    private static HashSet<string> RowsLeftOut(IReadOnlyList<KeyValuePair<string, IReadOnlyList<string>>> fields)
    {
        var rows = fields.Where(field => field.Key.EndsWith(RowKind, StringComparison.Ordinal) && !IsSaid(field.Value))
            .Select(field => field.Key[..(field.Key.LastIndexOf('.') + 1)]).Where(row => row != "").ToHashSet();
        foreach (var (name, values) in fields)
            if (KeepsRow(name) && IsSaid(values)) rows.ExceptWith(RowsOf(name));
        return rows;
    }

    private static bool IsSaid(IReadOnlyList<string> values) => values.Any(value => value != "");

    private static bool KeepsRow(string field) =>
        field.EndsWith(RowNumberKind, StringComparison.Ordinal) || field.EndsWith(RowTextKind, StringComparison.Ordinal);

    /// <summary>
    /// The name of a field, with what another field says in place of a level in braces. Null if that is empty: nothing is named.
    /// </summary>
    private string? NameOf(string field) => NamingOf(field) is not { } naming ? field
        : texts.GetValueOrDefault(naming)?.Trim() is { Length: > 0 } said
            ? NamedLevel().Replace(field, FormFields.Level(said)) : null;

    /// <summary>":skill" for "skills.{:skill}:number": a fault of the member stands beside the field that names it.</summary>
    private static string? NamingOf(string field) =>
        NamedLevel().Match(field) is { Success: true } level ? level.Groups[1].Value : null;

    /// <summary>What a field lies in: "a[0].b[1].c" in "a[0]." and "a[0].b[1].".</summary>
    private static IEnumerable<string> RowsOf(string field)
    {
        var (dot, level) = (field.IndexOf('.', StringComparison.Ordinal), 1);
        for (; dot >= 0 && level < MaxLevels; dot = field.IndexOf('.', dot + 1), level++) yield return field[..(dot + 1)];
    }

    /// <summary>Where the body has a field, or would have it if it were not empty. Null in a row that is not there.</summary>
    private string? PointerOf(string field)
    {
        var (path, pointer, at) = (PathOf(field.Split(':')[0]), "", (JsonObject?)body);
        foreach (var level in path[..^1])
        {
            if (Row().Match(level) is { Success: true } row)
            {
                var (list, number) = (row.Groups[1].Value, NumberOf(row));
                if (at is null || !lists.TryGetValue((at, list), out var rows) || !rows.TryGetValue(number, out at)) return null;
                pointer = $"{JsonPointer.To(pointer, list)}/{rows.IndexOfKey(number).ToString(CultureInfo.InvariantCulture)}";
            }
            else
            {
                var member = Uri.UnescapeDataString(level);
                (pointer, at) = (JsonPointer.To(pointer, member), at is null ? null : inners.GetValueOrDefault((at, member)));
            }
        }
        return JsonPointer.To(pointer, Uri.UnescapeDataString(path[^1]));
    }

    private void Add(string field, IReadOnlyList<string> given)
    {
        var (name, kind) = field.Split(':', 2) is [var first, var second] ? (first, second) : (field, "");
        IReadOnlyList<string> values = kind switch
        {
            "now" => [.. given.Select(value => value == "" ? now() : timeOf(value))],
            "time" or "row" => [.. given.Where(value => value != "").Select(timeOf)],
            "lines" => [.. given.SelectMany(value => value.Split('\n')).Select(line => line.Trim()).Where(line => line != "")],
            _ => [.. given.Where(value => value != "")],
        };
        if (values.Count == 0 && kind != "list") return;
        var (path, at) = (PathOf(name), body);
        foreach (var level in path[..^1]) at = Inner(at, level);
        var member = Uri.UnescapeDataString(path[^1]);
        if (kind is "list" or "lines") Put(at, member, new JsonArray([.. values.Select(value => JsonValue.Create(value))]));
        else foreach (var value in values) Put(at, member, Value(value, kind));
    }

    /// <summary>
    /// A member that is said twice, by one field or by several, is a list of what they say: the slice refuses it, so that nothing
    /// that was typed is dropped.
    /// </summary>
    private void Put(JsonObject owner, string member, JsonNode? said)
    {
        if (!owner.TryGetPropertyValue(member, out var other)) owner[member] = said;
        else if (other is JsonArray known && saidTwice.Contains(known)) known.Add(said);
        else
        {
            owner.Remove(member);
            var both = new JsonArray(other, said);
            saidTwice.Add(both);
            owner[member] = both;
        }
    }

    private static string[] PathOf(string name) => name.Split('.') is { Length: <= MaxLevels } levels ? levels : [name];

    private static int NumberOf(Match row) => int.Parse(row.Groups[2].ValueSpan, CultureInfo.InvariantCulture);

    private JsonObject Inner(JsonObject outer, string level)
    {
        if (Row().Match(level) is { Success: true } row)
        {
            var list = (outer, row.Groups[1].Value);
            if (!lists.TryGetValue(list, out var rows)) lists[list] = rows = [];
            var number = NumberOf(row);
            if (!rows.TryGetValue(number, out var found)) rows[number] = found = [];
            return found;
        }
        level = Uri.UnescapeDataString(level);
        if (!inners.TryGetValue((outer, level), out var inner)) Put(outer, level, inners[(outer, level)] = inner = []);
        return inner;
    }

    /// <summary>Text that is not of its kind stays text, so that the slice names the fault.</summary>
    private static JsonNode? Value(string text, string kind) => kind switch
    {
        "number" or "row-number" when Number().IsMatch(text) => JsonNode.Parse(text),
        "boolean" when text is "true" or "false" => JsonValue.Create(text == "true"),
        "json" => Parsed(text),
        _ => JsonValue.Create(text),
    };

    private static JsonNode? Parsed(string text)
    {
        try
        {
            var node = JsonNode.Parse(text);
            node?.ToJsonString(); // an escape of half a character is found on writing
            return node;
        }
        catch (Exception error) when (error is JsonException or InvalidOperationException)
        {
            return JsonValue.Create(text);
        }
    }

    /// <summary>RFC 8259, section 6, without exponents and bounded.</summary>
    [GeneratedRegex(@"^-?(0|[1-9][0-9]{0,14})(\.[0-9]{1,9})?\z")]
    private static partial Regex Number();

    /// <summary>A level that another field names.</summary>
    [GeneratedRegex(@"\{([^{}]+)\}")]
    private static partial Regex NamedLevel();

    /// <summary>A row of a list.</summary>
    [GeneratedRegex(@"^(\w+)\[([0-9]{1,4})\]\z")]
    private static partial Regex Row();
}
