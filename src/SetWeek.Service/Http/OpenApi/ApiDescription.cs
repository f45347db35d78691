using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Forms;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Http.OpenApi;

/// <summary>
/// The OpenAPI 3.1.1 description of the API, generated from the <see cref="Operation"/> of every endpoint and from the types that
/// it sends and reads (docs/decisions/slices.md says why the framework does not generate it).
/// </summary>
public static class ApiDescription
{
    public const string Path = "/openapi/v1.json";

    private static readonly Operation Own = new("GET", Path, "readDescription", "Reads this description")
    {
        MayUse = Permission.Everybody(AccessScope.Chain),
        IsOpen = true,
        Tag = "Description",
        Replies = [new(200, "OpenAPI 3.1", typeof(object))],
    };

    public static void Map(IEndpointRouteBuilder routes)
    {
        // Made at the first request, when all endpoints are mapped, and then kept: anybody may ask for it.
        Answer? description = null;
        routes.Open(Own, http => Task.FromResult(description ??=
            Answer.Ok(Of(Operations(http.RequestServices.GetRequiredService<EndpointDataSource>().Endpoints)))));
    }

    /// <summary>The operations of all endpoints that are mapped.</summary>
    public static IEnumerable<Operation> Operations(IEnumerable<Endpoint> endpoints) =>
        endpoints.Select(endpoint => endpoint.Metadata.GetMetadata<Operation>()).OfType<Operation>();

    public static JsonObject Of(IEnumerable<Operation> operations)
    {
        var known = operations.OrderBy(operation => operation.Path, StringComparer.Ordinal).ToList();
        var schemas = new TypeSchemas();
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
                    + "The full guide is docs/api.md. Every GET also answers HEAD.",
            },
            // Relative to the address of this description, which a proxy may have changed.
            ["servers"] = new JsonArray(new JsonObject { ["url"] = "/", ["description"] = "The service that sent this" }),
            ["security"] = new JsonArray(
                new JsonObject { ["token"] = new JsonArray() }, new JsonObject { ["session"] = new JsonArray() }),
            ["tags"] = new JsonArray([.. known.Select(operation => operation.Tag).Distinct().Order(StringComparer.Ordinal)
                .Select(tag => new JsonObject { ["name"] = tag, ["description"] = $"Operations on {tag.ToLowerInvariant()}" })]),
            ["paths"] = paths,
            ["components"] = new JsonObject
            {
                ["securitySchemes"] = new JsonObject
                {
                    ["token"] = new JsonObject { ["type"] = "http", ["scheme"] = "bearer", ["bearerFormat"] = "JWT" },
                    ["session"] = new JsonObject
                    {
                        ["type"] = "apiKey", ["in"] = "cookie", ["name"] = SessionCookie.SecureName,
                        ["description"] = $"A browser's session. A change needs the header {FormToken.Header} too: "
                            + "the formToken of GET /session.",
                    },
                },
                ["responses"] = ProblemAnswers.All(schemas),
                ["schemas"] = schemas.All(),
            },
        };
    }

    private static JsonObject Describe(Operation operation, TypeSchemas schemas)
    {
        var described = new JsonObject
        {
            ["operationId"] = operation.Id,
            ["summary"] = operation.Summary,
            ["description"] = operation.IsOpen ? "For anybody, without a token."
                : $"For {string.Join(", ", operation.MayUse.Roles.Select(Roles.Text))}.",
            ["tags"] = new JsonArray(operation.Tag),
            ["parameters"] = new JsonArray([.. ApiParameters.Of(operation)]),
            ["responses"] = Responses(operation, schemas),
        };
        if (operation.IsOpen) described["security"] = new JsonArray();
        if (operation.Body is { } body)
            described["requestBody"] = new JsonObject
            {
                ["required"] = !body.IsOptional,
                ["content"] = new JsonObject
                {
                    ["application/json"] = new JsonObject
                    {
                        ["schema"] = schemas.OfBody(body, operation.Id), ["example"] = JsonNode.Parse(body.Example),
                    },
                },
            };
        if (operation.Photos == PhotoUse.Upload)
            described["requestBody"] = new JsonObject
            {
                ["required"] = true,
                ["content"] = new JsonObject
                {
                    ["multipart/form-data"] = new JsonObject
                    {
                        ["schema"] = new JsonObject
                        {
                            ["type"] = "object",
                            ["properties"] = new JsonObject
                            {
                                [FormPhoto.UploadId] = ApiParameters.IdText(),
                                [FormPhoto.UploadField] = schemas.OfAnswer(typeof(byte[])),
                            },
                            ["required"] = new JsonArray(FormPhoto.UploadId, FormPhoto.UploadField),
                        },
                    },
                },
            };
        return described;
    }

    private static JsonObject Responses(Operation operation, TypeSchemas schemas)
    {
        var responses = new SortedDictionary<int, JsonNode?>();
        foreach (var status in operation.Replies.GroupBy(reply => reply.Status))
        {
            var response = new JsonObject { ["description"] = status.First().Meaning };
            var headers = new JsonObject(status.SelectMany(reply => ApiParameters.Headers(operation, reply))
                .DistinctBy(header => header.Key));
            if (headers.Count > 0) response["headers"] = headers;
            var content = new JsonObject(status.Where(reply => reply.Shape is not null)
                .Select(reply => KeyValuePair.Create(
                    reply.ContentType, (JsonNode?)new JsonObject { ["schema"] = schemas.OfAnswer(reply.Shape!) })));
            if (content.Count > 0) response["content"] = content;
            responses[status.Key] = response;
        }
        if (operation.Replies.Any(reply => reply.HasETag))
            responses[304] = new JsonObject
            {
                ["description"] = "It has not changed since the version given in If-None-Match",
                ["headers"] = new JsonObject([ApiParameters.ETag]),
            };
        foreach (var status in ProblemAnswers.Of(operation))
            responses[status] = new JsonObject { ["$ref"] = $"#/components/responses/{status}" };
        return new JsonObject(responses.Select(response => KeyValuePair.Create($"{response.Key}", response.Value)));
    }
}
