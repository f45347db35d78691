using System.Text.Json;

namespace SetWeek.Model.Json;

/// <summary>Where in a file a JSON Pointer points: which child of the root, which child of that, and so on.</summary>
internal sealed class JsonPositions(JsonElement root)
{
    private readonly Dictionary<string, (JsonElement Element, int[] Place)> known = new() { [""] = (root, []) };
    private readonly Dictionary<string, Dictionary<string, (JsonElement, int)>> fields = [];

    /// <summary>What is not there comes after what is.</summary>
    public int[] PositionOf(string pointer) => Find(pointer).Place;

    /// <summary>A place before what lies in it.</summary>
    public static IComparer<int[]> DocumentOrder { get; } = Comparer<int[]>.Create((one, other) =>
    {
        for (var depth = 0; depth < one.Length && depth < other.Length; depth++)
            if (one[depth] != other[depth]) return one[depth].CompareTo(other[depth]);
        return one.Length.CompareTo(other.Length);
    });

    private (JsonElement Element, int[] Place) Find(string pointer)
    {
        if (known.TryGetValue(pointer, out var found)) return found;
        var cut = pointer.LastIndexOf('/');
        var outer = pointer[..Math.Max(cut, 0)];
        var (parent, place) = Find(outer);
        var (child, index) = ChildOf(outer, parent, JsonPointer.Unescape(pointer[(cut + 1)..]));
        return known[pointer] = (child, [.. place, index]);
    }

    private (JsonElement, int) ChildOf(string pointer, JsonElement parent, string token)
    {
        if (parent.ValueKind == JsonValueKind.Array && int.TryParse(token, out var at) && at >= 0 && at < parent.GetArrayLength())
            return (parent[at], at);
        return FieldsOf(pointer, parent).TryGetValue(token, out var field) ? field : (default, int.MaxValue);
    }

    /// <summary>Kept, for an object with a million fields may have a thousand faults.</summary>
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
