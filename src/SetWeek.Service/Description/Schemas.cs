using System.Text.Json.Nodes;
using System.Text.Json.Schema;
using NodaTime;
using SetWeek.Service.Web;

namespace SetWeek.Service.Description;

/// <summary>JSON Schemas (2020-12, as OpenAPI 3.1 has them) of the types that bodies have the form of.</summary>
internal sealed class Schemas
{
    private static readonly IReadOnlyDictionary<Type, (string Meaning, string Example)> Times = new Dictionary<Type, (string, string)>
    {
        [typeof(LocalDateTime)] = ("Store-local", "2027-03-08T21:30"),
        [typeof(LocalTime)] = ("Store-local", "22:00"),
        [typeof(LocalDate)] = ("Store-local", "2027-03-08"),
        [typeof(OffsetDateTime)] = ("RFC 3339, with the store's offset", "2027-03-08T21:30:00Z"),
        [typeof(Instant)] = ("RFC 3339", "2027-03-08T21:30:00Z"),
    };

    private readonly SortedDictionary<string, JsonNode> known = new(StringComparer.Ordinal);

    /// <summary>A reference to it; types without a name of their own are written out where they stand.</summary>
    public JsonNode Of(Type type)
    {
        if (type == typeof(object)) return new JsonObject { ["type"] = "object" };
        if (type.IsArray) return new JsonObject { ["type"] = "array", ["items"] = Of(type.GetElementType()!) };
        if (type == typeof(string)) return new JsonObject { ["type"] = "string" };
        if (!known.ContainsKey(type.Name)) known[type.Name] = JsonForm.Options.GetJsonSchemaAsNode(type, Exporter);
        return new JsonObject { ["$ref"] = $"#/components/schemas/{type.Name}" };
    }

    public JsonObject All() => new(known.Select(one => KeyValuePair.Create(one.Key, (JsonNode?)one.Value)));

    private static readonly JsonSchemaExporterOptions Exporter = new()
    {
        TreatNullObliviousAsNonNullable = true,
        TransformSchemaNode = (context, schema) => Times.TryGetValue(Nullable.GetUnderlyingType(context.TypeInfo.Type) ?? context.TypeInfo.Type, out var time)
            ? new JsonObject { ["type"] = "string", ["description"] = time.Meaning, ["examples"] = new JsonArray(time.Example) }
            : schema,
    };
}
