using System.Text.Json.Nodes;
using System.Text.Json.Schema;
using NodaTime;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Json;

namespace SetWeek.Service.Http.OpenApi;

/// <summary>JSON Schemas (2020-12, as OpenAPI 3.1 has them) of the types that bodies have the form of.</summary>
internal sealed class JsonSchemas
{
    private static readonly Dictionary<Type, (string Meaning, string Example)> Times = new()
    {
        [typeof(LocalDateTime)] = ("Store-local", "2027-03-08T21:30"),
        [typeof(LocalTime)] = ("Store-local", "22:00"),
        [typeof(LocalDate)] = ("Store-local", "2027-03-08"),
        [typeof(OffsetDateTime)] = ("RFC 3339, with the store's offset", "2027-03-08T21:30:00Z"),
        [typeof(Instant)] = ("RFC 3339", "2027-03-08T21:30:00Z"),
    };

    private readonly SortedDictionary<string, JsonNode> known = new(StringComparer.Ordinal);

    /// <summary>A reference to it; types without a name of their own are written out where they stand.</summary>
    /// <param name="published">The schema's name where it is not that of the type: readers rely on it.</param>
    public JsonNode Of(Type type, string? published = null)
    {
        if (type == typeof(object)) return new JsonObject { ["type"] = "object" };
        if (type.IsArray) return new JsonObject { ["type"] = "array", ["items"] = Of(type.GetElementType()!) };
        if (type == typeof(string)) return new JsonObject { ["type"] = "string" };
        var name = published ?? Name(type);
        if (!known.ContainsKey(name)) known[name] = JsonFormat.Options.GetJsonSchemaAsNode(type, Exporter);
        return Reference(name);
    }

    /// <summary>The form of a body that is sent: what is not in the example, which is accepted, may be left out.</summary>
    public JsonNode Of(RequestBody body, string operation)
    {
        var name = $"{char.ToUpperInvariant(operation[0])}{operation[1..]}Body";
        var schema = JsonFormat.Options.GetJsonSchemaAsNode(body.Shape, Exporter).AsObject();
        var given = JsonNode.Parse(body.Example)!.AsObject();
        if (schema["required"] is JsonArray required)
            schema["required"] = new JsonArray([.. required.Select(field => (string)field!).Where(given.ContainsKey)
                .Select(field => JsonValue.Create(field))]);
        known[name] = schema;
        return Reference(name);
    }

    private static string Name(Type type) => type.DeclaringType is { } holder ? $"{holder.Name}{type.Name}" : type.Name;

    private static JsonObject Reference(string name) => new() { ["$ref"] = $"#/components/schemas/{name}" };

    public JsonObject All() => new(known.Select(one => KeyValuePair.Create(one.Key, (JsonNode?)one.Value)));

    private static readonly JsonSchemaExporterOptions Exporter = new()
    {
        TreatNullObliviousAsNonNullable = true,
        TransformSchemaNode = (context, schema) =>
            Times.TryGetValue(Nullable.GetUnderlyingType(context.TypeInfo.Type) ?? context.TypeInfo.Type, out var time)
            ? new JsonObject { ["type"] = "string", ["description"] = time.Meaning, ["examples"] = new JsonArray(time.Example) }
            : schema is JsonObject ? schema : new JsonObject(), // "true", anything goes: not every reader takes it in that form
    };
}
