using System.Text.Json.Nodes;
using System.Text.Json.Schema;
using NodaTime;
using SetWeek.Model.Weeks;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Json;

namespace SetWeek.Service.Http.OpenApi;

/// <summary>Collects the JSON Schemas (2020-12, as in OpenAPI 3.1) of request and response bodies.</summary>
internal sealed class JsonSchemas
{
    private static readonly Dictionary<Type, (string Description, string Example)> Times = new()
    {
        [typeof(LocalDateTime)] = ("Local time in the store", "2027-03-08T21:30"),
        [typeof(LocalTime)] = ("Local time in the store", "22:00"),
        [typeof(LocalDate)] = ("Local date in the store", "2027-03-08"),
        [typeof(OffsetDateTime)] = ("RFC 3339, with the UTC offset of the store", "2027-03-08T21:30:00Z"),
        [typeof(Instant)] = ("RFC 3339", "2027-03-08T21:30:00Z"),
    };

    private readonly SortedDictionary<string, JsonNode> known = new(StringComparer.Ordinal);

    /// <summary>A reference to the schema of a type. Strings, arrays and untyped objects are inlined instead.</summary>
    /// <param name="published">The name of the schema if it differs from that of the type; clients rely on the name.</param>
    public JsonNode Of(Type type, string? published = null)
    {
        if (type == typeof(object)) return new JsonObject { ["type"] = "object" };
        if (type.IsArray) return new JsonObject { ["type"] = "array", ["items"] = Of(type.GetElementType()!) };
        if (type == typeof(string)) return new JsonObject { ["type"] = "string" };
        var name = published ?? Name(type);
        if (!known.ContainsKey(name)) known[name] = JsonFormat.Options.GetJsonSchemaAsNode(type, Exporter);
        return Reference(name);
    }

    /// <summary>
    /// The schema of a request body. Only fields of its example are required, because the example is a valid body.
    /// </summary>
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

    private static string Name(Type type) => type.DeclaringType is { } outer ? $"{outer.Name}{type.Name}" : type.Name;

    private static JsonObject Reference(string name) => new() { ["$ref"] = $"#/components/schemas/{name}" };

    public JsonObject All() => new(known.Select(schema => KeyValuePair.Create(schema.Key, (JsonNode?)schema.Value)));

    /// <summary>
    /// A pin of a stint names a task and a pin of a shift names a person, so that bodies tell them apart without the discriminator
    /// that stored events have.
    /// </summary>
    private static JsonObject WithoutDiscriminator(JsonObject schema)
    {
        schema.Remove("required");
        foreach (var one in schema["anyOf"]!.AsArray().OfType<JsonObject>())
        {
            one["properties"]!.AsObject().Remove("$type");
            if (one["required"] is JsonArray required)
                one["required"] = new JsonArray([.. required.Select(field => (string)field!).Where(field => field != "$type")
                    .Select(field => JsonValue.Create(field))]);
        }
        return schema;
    }

    private static readonly JsonSchemaExporterOptions Exporter = new()
    {
        TreatNullObliviousAsNonNullable = true,
        TransformSchemaNode = (context, schema) =>
            Times.TryGetValue(Nullable.GetUnderlyingType(context.TypeInfo.Type) ?? context.TypeInfo.Type, out var time)
            ? new JsonObject
            {
                ["type"] = "string", ["description"] = time.Description, ["examples"] = new JsonArray(time.Example),
            }
            : context.TypeInfo.Type == typeof(Pin) ? WithoutDiscriminator(schema.AsObject())
            : schema is JsonObject ? schema : new JsonObject(), // some readers do not accept the schema "true"
    };
}
