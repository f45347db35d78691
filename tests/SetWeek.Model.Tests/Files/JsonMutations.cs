using System.Text.Json;
using System.Text.Json.Nodes;

namespace SetWeek.Model.Tests.Files;

/// <summary>Copies of a JSON text, each with one change at one place.</summary>
internal static class JsonMutations
{
    public sealed record Mutation(string Description, string Pointer, JsonElement Text);

    private static readonly string[] OtherValues = ["null", "\"\"", "\"A b\\u0007\"", "-1", "0", "2.5", "1000000000000", "true",
        "[]", "{}", "[[]]", "\"2027-03-12T24:61\"", "\"x\""];

    /// <summary>
    /// Drops each field, adds a field to each object, and replaces each value by <paramref name="othersEach" /> others, which
    /// are taken in rotation.
    /// </summary>
    public static IEnumerable<Mutation> Of(byte[] json, int othersEach)
    {
        var next = 0;
        foreach (var pointer in Places(JsonNode.Parse(json)!, ""))
        {
            if (pointer.Length > 0)
            {
                for (var other = 0; other < othersEach; other++)
                {
                    var value = OtherValues[next++ % OtherValues.Length];
                    yield return Changed($"{pointer} = {value}", pointer, json,
                        (parent, name) => Set(parent, name, JsonNode.Parse(value)));
                }
                if (At(JsonNode.Parse(json)!, ParentOf(pointer)) is JsonObject)
                    yield return Changed($"{pointer} dropped", pointer, json,
                        (parent, name) => ((JsonObject)parent).Remove(name));
            }
            if (At(JsonNode.Parse(json)!, pointer) is JsonObject)
                yield return Changed($"{pointer} with one more field", $"{pointer}/perhaps", json,
                    (parent, name) => ((JsonObject)parent)[name] = new JsonArray());
        }
    }

    private static Mutation Changed(string description, string pointer, byte[] json, Action<JsonNode, string> change)
    {
        var root = JsonNode.Parse(json)!;
        change(At(root, ParentOf(pointer)), pointer[(pointer.LastIndexOf('/') + 1)..]);
        return new Mutation(description, pointer, JsonSerializer.SerializeToElement(root));
    }

    private static IEnumerable<string> Places(JsonNode? node, string pointer) =>
    [
        pointer,
        .. node is JsonObject fields ? fields.SelectMany(field => Places(field.Value, $"{pointer}/{field.Key}")) : [],
        .. node is JsonArray items ? items.Index().SelectMany(item => Places(item.Item, $"{pointer}/{item.Index}")) : [],
    ];

    private static string ParentOf(string pointer) => pointer[..pointer.LastIndexOf('/')];

    private static JsonNode At(JsonNode root, string pointer) => pointer.Split('/').Skip(1).Aggregate(root, (node, name) =>
        node is JsonArray items ? items[int.Parse(name, System.Globalization.CultureInfo.InvariantCulture)]! : node[name]!);

    private static void Set(JsonNode parent, string name, JsonNode? value)
    {
        if (parent is JsonArray items) items[int.Parse(name, System.Globalization.CultureInfo.InvariantCulture)] = value;
        else parent[name] = value;
    }
}
