using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization.Metadata;
using NodaTime;
using OneOf;
using SetWeek.Model.Changes;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Json;

namespace SetWeek.Service.Http.OpenApi;

/// <summary>
/// The components/schemas of the description: one JSON Schema (2020-12, as in OpenAPI 3.1) for each type that is sent or read.
/// The serializer's own contract of a type gives its members, so the description cannot differ from what is sent.
/// </summary>
internal sealed class TypeSchemas
{
    private static readonly Dictionary<Type, JsonObject> Simple = new()
    {
        [typeof(string)] = Form("string"), [typeof(bool)] = Form("boolean"), [typeof(int)] = Form("integer", "int32"),
        [typeof(long)] = Form("integer", "int64"), [typeof(double)] = Form("number", "double"),
        [typeof(object)] = new JsonObject(), [typeof(byte[])] = Form("string", "binary"),
        [typeof(LocalDateTime)] = Time("Local time in the store", "2027-03-08T21:30"),
        [typeof(LocalTime)] = Time("Local time of day in the store", "22:00"),
        [typeof(LocalDate)] = Time("Local date in the store", "2027-03-08", "date"),
        [typeof(OffsetDateTime)] = Time("RFC 3339, with the UTC offset of the store", "2027-03-08T21:30:00Z", "date-time"),
        [typeof(Instant)] = Time("RFC 3339, in UTC", "2027-03-08T21:30:00Z", "date-time"),
        [typeof(DateTimeOffset)] = Time("RFC 3339", "2027-03-08T21:30:00Z", "date-time"),
    };

    /// <summary>Types that are sent in the form of a file rather than in that of the type (docs/formats.md).</summary>
    private static readonly Dictionary<Type, string> Files = new()
    {
        [typeof(Plan)] = "PlanFile", [typeof(Week)] = "WeekFile",
    };

    /// <summary>Types that a body gives as a week file does.</summary>
    private static readonly Dictionary<Type, string> FilePartsOfBodies = new()
    {
        [typeof(Night)] = "WeekFileNight", [typeof(CrewMember)] = "WeekFileCrewMember", [typeof(WeekTask)] = "WeekFileTask",
        [typeof(RuleSet)] = "WeekFileRules", [typeof(Pin)] = "WeekFilePin", [typeof(HoldTarget)] = "WeekFileHold",
        [typeof(SkillRequirement)] = "WeekFileRole",
    };

    private readonly SortedDictionary<string, JsonNode> known = new(StringComparer.Ordinal);
    private readonly Dictionary<string, (Type Type, bool InBody)> named = [];

    public JsonObject All() => new(known.Select(schema => KeyValuePair.Create(schema.Key, (JsonNode?)schema.Value)));

    /// <summary>The schema of what an answer contains.</summary>
    public JsonNode OfAnswer(Type type) => Of(type, inBody: false);

    /// <summary>The schema of a request body. Clients rely on its name, which is that of the operation.</summary>
    public JsonNode OfBody(RequestBody body, string operation)
    {
        if (FilePartsOfBodies.TryGetValue(body.Shape, out var file)) return File(file);
        var name = $"{char.ToUpperInvariant(operation[0])}{operation[1..]}Body";
        var schema = Members(JsonFormat.Options.GetTypeInfo(body.Shape), inBody: true);
        known[name] = schema;
        foreach (var path in body.MayOmit) MakeOptional(schema, path);
        if (body.Items is { } items)
            schema["properties"]![items.List]!["items"] = new JsonObject
            {
                ["anyOf"] = new JsonArray([.. items.Kinds.Select(kind => OfItem(kind.Key, kind.Value))]),
            };
        return Reference(name);
    }

    /// <summary>An item of a list of bodies: the body of its operation, its kind and the parts of its address.</summary>
    private JsonNode OfItem(string kind, Operation operation)
    {
        var body = (string)OfBody(operation.Body!, operation.Id)["$ref"]!;
        var schema = known[body[FileSchemas.Components.Length..]].DeepClone().AsObject();
        foreach (var parameter in operation.Path.Split('/').Where(part => part.StartsWith('{') && part != "{id}"))
        {
            var part = parameter.Trim('{', '}');
            schema["properties"]![part] = ApiParameters.IdText();
            schema["required"]!.AsArray().Add(part);
        }
        schema["properties"]![BodyItems.Kind] = new JsonObject { ["type"] = "string", ["enum"] = new JsonArray(kind) };
        schema["required"]!.AsArray().Add(BodyItems.Kind);
        var name = $"{char.ToUpperInvariant(operation.Id[0])}{operation.Id[1..]}Item";
        known[name] = schema;
        return Reference(name);
    }

    /// <summary>Makes a member optional that the type itself always has: an empty list, or a number with a default.</summary>
    private void MakeOptional(JsonObject schema, string path)
    {
        var (member, rest) = path.Split('/', 2) is [var first, .. var more] ? (first, more.FirstOrDefault()) : (path, null);
        if (schema["items"] is JsonObject items) schema = items;
        if ((string?)schema["$ref"] is { } reference) schema = known[reference[FileSchemas.Components.Length..]].AsObject();
        if (rest is not null) MakeOptional(schema["properties"]![member]!.AsObject(), rest);
        else schema["required"] = new JsonArray([.. schema["required"]!.AsArray().Select(name => (string)name!)
            .Where(name => name != member).Select(name => JsonValue.Create(name))]);
    }

    private JsonNode Of(Type type, bool inBody)
    {
        type = Nullable.GetUnderlyingType(type) ?? type;
        if (Simple.TryGetValue(type, out var simple)) return simple.DeepClone();
        if (Files.TryGetValue(type, out var file)) return File(file);
        if (inBody && FilePartsOfBodies.TryGetValue(type, out var part)) return File(part);
        if (inBody && type == typeof(GoalChoice)) return FileSchemas.GoalChoice;
        if (type.IsAssignableTo(typeof(WeekChange)))
        {
            var change = File("PlanFileChange");
            if (inBody) change["unevaluatedProperties"] = false;
            return change;
        }
        if (type == typeof(JsonElement)) return new JsonObject();
        if (type.IsAssignableTo(typeof(IOneOf)))
            return new JsonObject { ["anyOf"] = new JsonArray([.. type.GetGenericArguments().Select(one => Of(one, inBody))]) };

        var contract = JsonFormat.Options.GetTypeInfo(type);
        return contract.Kind switch
        {
            JsonTypeInfoKind.Enumerable =>
                new JsonObject { ["type"] = "array", ["items"] = Of(contract.ElementType!, inBody) },
            JsonTypeInfoKind.Dictionary =>
                new JsonObject { ["type"] = "object", ["additionalProperties"] = Of(contract.ElementType!, inBody) },
            JsonTypeInfoKind.Object => Component(type, inBody, () => contract.PolymorphismOptions is { } variants
                ? AnyOf(variants, inBody) : Members(contract, inBody)),
            _ when type.IsEnum => Component(type, inBody: false, () => new JsonObject
            {
                ["type"] = "string",
                ["enum"] = new JsonArray([.. Enum.GetValues(type).Cast<object>()
                    .Select(value => JsonSerializer.SerializeToNode(value, type, JsonFormat.Options))]),
            }),
            _ => throw new InvalidOperationException($"{type} has a JSON converter of its own; describe its form here."),
        };
    }

    private JsonNode Component(Type type, bool inBody, Func<JsonNode> schema)
    {
        var name = Name(type) + (inBody ? "Input" : "");
        if (named.TryAdd(name, (type, inBody)))
        {
            known[name] = new JsonObject(); // holds the place, since a type may contain itself
            known[name] = schema();
        }
        if (named[name].Type != type)
            throw new InvalidOperationException($"{type} and {named[name].Type} would both be described as {name}; rename one.");
        return Reference(name);
    }

    private JsonObject AnyOf(JsonPolymorphismOptions variants, bool inBody) => new()
    {
        ["anyOf"] = new JsonArray([.. variants.DerivedTypes.Select(variant => Component(variant.DerivedType, inBody, () =>
        {
            var schema = Members(JsonFormat.Options.GetTypeInfo(variant.DerivedType), inBody);
            schema["properties"]![variants.TypeDiscriminatorPropertyName] =
                new JsonObject { ["type"] = "string", ["enum"] = new JsonArray((string)variant.TypeDiscriminator!) };
            schema["required"]!.AsArray().Insert(0, variants.TypeDiscriminatorPropertyName);
            return schema;
        }))]),
    };

    /// <summary>
    /// In an answer every member that cannot be null is there, and one that is null is left out. A body must give what its type
    /// cannot do without; it may give nothing else.
    /// </summary>
    private JsonObject Members(JsonTypeInfo contract, bool inBody)
    {
        var members = contract.Properties.Where(member => member.Get is not null && member.AttributeProvider is not null
            && !(inBody && member.Set is null && member.AssociatedParameter is null)).ToList();
        var schema = new JsonObject
        {
            ["type"] = "object",
            ["properties"] = new JsonObject(members.Select(member => KeyValuePair.Create(member.Name, Member(member, inBody)))),
            ["required"] = new JsonArray([.. members.Where(member => inBody ? MustBeGiven(member) : !MayBeNull(member))
                .Select(member => JsonValue.Create(member.Name))]),
        };
        if (inBody) schema["additionalProperties"] = false;
        return schema;
    }

    private JsonNode? Member(JsonPropertyInfo member, bool inBody)
    {
        var given = (SentAsAttribute?)member.AttributeProvider!.GetCustomAttributes(typeof(SentAsAttribute), false)
            .FirstOrDefault();
        var schema = Of(given?.Type ?? member.PropertyType, inBody);
        if (!inBody || !member.IsRequired || !MayBeNull(member)) return schema;
        if (schema is not JsonObject typed || typed["type"] is not JsonValue type)
            throw new InvalidOperationException($"{member.Name} must be given and may be null; give it a simple type.");
        typed["type"] = new JsonArray((string)type!, "null");
        return typed;
    }

    private static bool MustBeGiven(JsonPropertyInfo member) =>
        member.IsRequired || (!MayBeNull(member) && member.AssociatedParameter is { HasDefaultValue: false });

    private static bool MayBeNull(JsonPropertyInfo member) => member.PropertyType.IsValueType
        ? Nullable.GetUnderlyingType(member.PropertyType) is not null : member.IsGetNullable;

    private JsonObject File(string name)
    {
        if (known.TryAdd(name, FileSchemas.Of(name)))
            foreach (var part in FileSchemas.PartsOf(known[name])) File(part);
        return Reference(name);
    }

    private static string Name(Type type) => type.DeclaringType is { } outer ? $"{outer.Name}{type.Name}" : type.Name;

    private static JsonObject Reference(string name) => new() { ["$ref"] = FileSchemas.Components + name };

    private static JsonObject Form(string type, string? format = null)
    {
        var schema = new JsonObject { ["type"] = type };
        if (format is not null) schema["format"] = format;
        return schema;
    }

    private static JsonObject Time(string description, string example, string? format = null)
    {
        var schema = Form("string", format);
        schema["description"] = description;
        schema["examples"] = new JsonArray(example);
        return schema;
    }
}
