using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Idempotency;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Http.OpenApi;

/// <summary>
/// The OpenAPI 3.1.1 description of the API, generated from the <see cref="Operation"/> of every slice
/// (docs/decisions/slices.md says why the framework does not generate it).
/// </summary>
public static class ApiDescription
{
    private static readonly Operation Own = new("GET", "/openapi/v1.json", "readDescription", "Reads this description")
    {
        MayUse = Permission.Everybody(AccessScope.Chain),
        Replies = [new(200, "OpenAPI 3.1", typeof(object))],
    };

    public static void Map(IEndpointRouteBuilder routes) => routes
        .MapGet(Own.Path, (HttpContext http) => Answer.Ok(Of(Operations(http.RequestServices))).Send(http))
        .WithMetadata(Own with { Tag = "Description" }).RequireAuthorization();

    public static JsonObject Of(IEnumerable<Operation> operations)
    {
        var known = operations.OrderBy(operation => operation.Path, StringComparer.Ordinal).ToList();
        var schemas = new JsonSchemas();
        var paths = new JsonObject();
        foreach (var path in known.GroupBy(operation => operation.Path))
            paths[path.Key] = new JsonObject(path.Select(operation =>
                KeyValuePair.Create(operation.Method.ToLowerInvariant(), (JsonNode?)Describe(operation, schemas))));
        return new JsonObject
        {
            ["openapi"] = "3.1.1",
            ["info"] = new JsonObject
            {
                ["title"] = "SetWeek", ["version"] = "1",
                ["description"] = "Plans the set week of a store, night by night, and re-plans it when something changes. "
                    + "The full guide is docs/api.md.",
            },
            ["security"] = new JsonArray(new JsonObject { ["token"] = new JsonArray() }),
            ["tags"] = new JsonArray([.. known.Select(operation => operation.Tag).Distinct().Order(StringComparer.Ordinal)
                .Select(tag => new JsonObject { ["name"] = tag })]),
            ["paths"] = paths,
            ["components"] = new JsonObject
            {
                ["securitySchemes"] = new JsonObject
                {
                    ["token"] = new JsonObject { ["type"] = "http", ["scheme"] = "bearer", ["bearerFormat"] = "JWT" },
                },
                ["responses"] = ProblemAnswers.All(schemas),
                ["schemas"] = schemas.All(),
            },
        };
    }

    private static IEnumerable<Operation> Operations(IServiceProvider services) =>
        services.GetRequiredService<EndpointDataSource>().Endpoints
            .Select(endpoint => endpoint.Metadata.GetMetadata<Operation>()).OfType<Operation>();

    private static JsonObject Describe(Operation operation, JsonSchemas schemas)
    {
        var described = new JsonObject
        {
            ["operationId"] = operation.Id,
            ["summary"] = operation.Summary,
            ["description"] = $"For {string.Join(", ", operation.MayUse.Roles.Select(Roles.Text))}.",
            ["tags"] = new JsonArray(operation.Tag),
            ["parameters"] = new JsonArray([.. Parameters(operation)]),
            ["responses"] = Responses(operation, schemas),
        };
        if (operation.Body is { } body)
            described["requestBody"] = new JsonObject
            {
                ["required"] = !body.IsOptional,
                ["content"] = new JsonObject
                {
                    ["application/json"] = new JsonObject
                    {
                        ["schema"] = schemas.Of(body, operation.Id), ["example"] = JsonNode.Parse(body.Example),
                    },
                },
            };
        return described;
    }

    private static IEnumerable<JsonNode> Parameters(Operation operation)
    {
        foreach (var part in operation.Path.Split('/').Where(part => part.StartsWith('{')))
            yield return Parameter(part.Trim('{', '}'), "path", "An id", ExampleOf(part, operation), required: true);
        foreach (var value in operation.Query)
            yield return Parameter(value.Name, "query", value.Meaning, value.Example, required: false);
        if (operation.IfMatch)
            yield return Parameter("If-Match", "header",
                "The ETag of the version on which the decision is based", "\"7\"", required: true);
        if (operation.Method == "POST")
            yield return Parameter(IdempotencyKey.Header, "header",
                "Makes a repeated request safe: for 14 days the same key returns the first answer",
                "lena.42", required: false);
    }

    private static string ExampleOf(string part, Operation operation) => (part, operation.Path.Split('/')[1]) switch
    {
        ("{id}", "stores") => "harbour-street",
        ("{id}", "directions") => "first-rain",
        ("{id}", _) => "first-rain.harbour-street",
        ("{plan}", _) => "0195c8e2a3f47b1c9d0e5f6a7b8c9d0e",
        ("{kit}", _) => "props",
        _ => "c1",
    };

    private static JsonObject Parameter(string name, string location, string meaning, string example, bool required) => new()
    {
        ["name"] = name, ["in"] = location, ["description"] = meaning, ["required"] = required,
        ["schema"] = new JsonObject { ["type"] = "string" }, ["example"] = example,
    };

    private static JsonObject Responses(Operation operation, JsonSchemas schemas)
    {
        var responses = new JsonObject();
        foreach (var status in operation.Replies.GroupBy(reply => reply.Status))
        {
            var response = new JsonObject { ["description"] = status.First().Meaning };
            var content = status.Where(reply => reply.Shape is not null)
                .Select(reply => KeyValuePair.Create(
                    reply.ContentType, (JsonNode?)new JsonObject { ["schema"] = schemas.Of(reply.Shape!) }));
            if (content.Any()) response["content"] = new JsonObject(content);
            responses[$"{status.Key}"] = response;
        }
        foreach (var status in ProblemAnswers.Of(operation))
            responses[$"{status}"] = new JsonObject { ["$ref"] = $"#/components/responses/{status}" };
        return responses;
    }
}
