using System.Text.Json.Nodes;

namespace SetWeek.Service.Http.OpenApi;

/// <summary>
/// The schemas of the week file and the plan file (docs/schemas), as components of the description: PlanFile, PlanFileNight and
/// so on. The tests of the files keep these schemas and the readers and writers of the files in agreement.
/// </summary>
internal static class FileSchemas
{
    public const string Components = "#/components/schemas/";

    private const string Definitions = "#/$defs/";

    private static readonly Dictionary<string, JsonObject> All = Split(Read("plan"), "PlanFile")
        .Concat(Split(Read("week"), "WeekFile")).ToDictionary(part => part.Name, part => part.Schema);

    /// <summary>A goal of a week: a name, or an object with a tolerance.</summary>
    public static JsonNode GoalChoice => All["WeekFile"]["properties"]!["replanGoals"]!["items"]!.DeepClone();

    public static JsonObject Of(string name) => All[name].DeepClone().AsObject();

    /// <summary>The names of the components to which a schema refers.</summary>
    public static IEnumerable<string> PartsOf(JsonNode? schema) => schema switch
    {
        JsonObject members => members.SelectMany(member => member is { Key: "$ref", Value: JsonValue target }
            ? [((string)target!)[Components.Length..]] : PartsOf(member.Value)),
        JsonArray items => items.SelectMany(PartsOf),
        _ => [],
    };

    private static IEnumerable<(string Name, JsonObject Schema)> Split(JsonObject file, string prefix)
    {
        var definitions = file["$defs"]!.AsObject();
        foreach (var keyword in (string[])["$schema", "$id", "$defs"]) file.Remove(keyword);
        var members = file["properties"]!.AsObject();
        // A part that request bodies share gets a name of its own.
        if (members["hold"] is { } hold)
        {
            definitions["hold"] = hold.DeepClone();
            members["hold"] = new JsonObject { ["$ref"] = Definitions + "hold" };
        }
        foreach (var (name, schema) in definitions)
            yield return (NameOf(name), Translated(schema!, prefix, definitions).AsObject());
        yield return (prefix, Translated(file, prefix, definitions).AsObject());

        string NameOf(string definition) => $"{prefix}{char.ToUpperInvariant(definition[0])}{definition[1..]}";
    }

    /// <summary>
    /// The same schema with references to components. Generators of clients take an enum without a type for anything, and a
    /// choice between a reference and null for a type of its own. So the enum gets its type, and the choice becomes the type or
    /// null.
    /// </summary>
    private static JsonNode Translated(JsonNode schema, string prefix, JsonObject definitions)
    {
        if (schema is JsonArray items)
            return new JsonArray([.. items.Select(item => item is null ? null : Translated(item, prefix, definitions))]);
        if (schema is not JsonObject members) return schema.DeepClone();
        if (members["anyOf"] is JsonArray { Count: 2 } choices && choices[0] is JsonObject choice
            && (string?)choices[1]!["type"] == "null")
        {
            foreach (var (keyword, value) in definitions[((string)choice["$ref"]!)[Definitions.Length..]]!.AsObject())
                members.TryAdd(keyword, value?.DeepClone());
            members["type"] = new JsonArray((string)members["type"]!, "null");
            members.Remove("anyOf");
        }
        if (members["$ref"] is JsonValue reference && ((string)reference!) is var target
            && target.StartsWith(Definitions, StringComparison.Ordinal))
            members["$ref"] = $"{Components}{prefix}{char.ToUpperInvariant(target[Definitions.Length])}"
                + target[(Definitions.Length + 1)..];
        if (members["enum"] is JsonArray && members["type"] is null) members["type"] = "string";
        HoistVariants(members);
        return new JsonObject(members.Select(member =>
            KeyValuePair.Create(member.Key, member.Value is { } value ? Translated(value, prefix, definitions) : null)));
    }

    /// <summary>
    /// A change has members that depend on its kind (allOf with if and then). Each is listed as a member that may be there, so
    /// that a generated client has them all.
    /// </summary>
    private static void HoistVariants(JsonObject schema)
    {
        if (schema["allOf"] is not JsonArray variants || schema["properties"] is not JsonObject members) return;
        foreach (var (name, member) in variants.SelectMany(variant => variant?["then"]?["properties"]?.AsObject() ?? []).ToList())
            if (members[name] is not { } other) members[name] = member!.DeepClone();
            else if (!JsonNode.DeepEquals(Undescribed(other), Undescribed(member!)))
                members[name] = new JsonObject { ["anyOf"] = new JsonArray(other.DeepClone(), member!.DeepClone()) };
        schema.Remove("allOf");
    }

    private static JsonNode Undescribed(JsonNode schema)
    {
        var copy = schema.DeepClone();
        copy.AsObject().Remove("description");
        return copy;
    }

    private static JsonObject Read(string file)
    {
        using var stream = typeof(FileSchemas).Assembly.GetManifestResourceStream($"{file}.schema.json")
            ?? throw new InvalidOperationException($"The schema of the {file} file is not in the assembly.");
        return JsonNode.Parse(stream)!.AsObject();
    }
}
