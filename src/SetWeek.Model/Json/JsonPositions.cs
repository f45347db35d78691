using System.Text.Json;

namespace SetWeek.Model.Json;

/// <summary>Converts a JSON Pointer to a position: the index of the child at each level, from the root down.</summary>
internal sealed class JsonPositions(JsonElement root)
{
    private readonly Dictionary<string, (JsonElement Element, int[] Position)> known = new() { [""] = (root, []) };
    private readonly Dictionary<string, Dictionary<string, (JsonElement, int)>> fields = [];

    /// <summary>The position of a pointer. A field that does not exist is placed after all that do.</summary>
    public int[] PositionOf(string pointer) => Find(pointer).Position;

    /// <summary>Orders positions as in the text, a value before its children.</summary>
    public static IComparer<int[]> DocumentOrder { get; } = Comparer<int[]>.Create((first, second) =>
    {
        for (var depth = 0; depth < first.Length && depth < second.Length; depth++)
            if (first[depth] != second[depth]) return first[depth].CompareTo(second[depth]);
        return first.Length.CompareTo(second.Length);
    });

    private (JsonElement Element, int[] Position) Find(string pointer)
    {
        if (known.TryGetValue(pointer, out var found)) return found;
        var cut = pointer.LastIndexOf('/');
        var outer = pointer[..Math.Max(cut, 0)];
        var (parent, position) = Find(outer);
        var (child, index) = ChildOf(outer, parent, JsonPointer.Unescape(pointer[(cut + 1)..]));
        return known[pointer] = (child, [.. position, index]);
    }

    private (JsonElement, int) ChildOf(string pointer, JsonElement parent, string token)
    {
        if (parent.ValueKind == JsonValueKind.Array
            && int.TryParse(token, out var index) && index >= 0 && index < parent.GetArrayLength())
            return (parent[index], index);
        return FieldsOf(pointer, parent).TryGetValue(token, out var field) ? field : (default, int.MaxValue);
    }

    /// <summary>The fields of an object by name, cached: an object with a million fields may have a thousand faults.</summary>
    private Dictionary<string, (JsonElement, int)> FieldsOf(string pointer, JsonElement parent)
    {
        if (fields.TryGetValue(pointer, out var known)) return known;
        known = [];
        if (parent.ValueKind == JsonValueKind.Object)
            foreach (var property in parent.EnumerateObject())
                known.TryAdd(JsonPointer.NameOf(property), (property.Value, known.Count));
        return fields[pointer] = known;
    }
}
