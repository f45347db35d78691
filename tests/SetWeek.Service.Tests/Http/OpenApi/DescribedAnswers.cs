using System.Collections.Concurrent;
using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;
using Microsoft.AspNetCore.WebUtilities;
using SetWeek.Service.Http.OpenApi;

namespace SetWeek.Service.Tests.Http.OpenApi;

/// <summary>
/// Compares answers with the API description: the status, the media type, the headers and the JSON. JsonSchema.Net evaluates the
/// schemas as JSON Schema 2020-12 defines them. Here a member that is not described is an error too.
/// </summary>
internal static class DescribedAnswers
{
    private static readonly string[] Headers = ["ETag", "Location", "Link", "Retry-After"];
    private static readonly ConcurrentDictionary<string, JsonSchema> Schemas = [];

    /// <summary>The description, as the service sends it.</summary>
    public static JsonObject Description { get; } = Describe();

    private static readonly JsonNode Definitions = Closed(Description["components"]!["schemas"]!);

    /// <summary>Fails if an answer is not as described. An address that is not described must not be found.</summary>
    public static void Check(HttpResponseMessage answer, string text)
    {
        var (method, path) = (MethodOf(answer.RequestMessage!), answer.RequestMessage!.RequestUri!.AbsolutePath);
        if (path.Length > 1) path = path.TrimEnd('/');
        var status = (int)answer.StatusCode;
        var place = $"{method} {path} answered {status}";
        if (OperationOf(method == "HEAD" ? "GET" : method, path) is not { } operation)
        {
            Assert.True(status is 400 or 401 or 404 or 405, $"{place}, but this address is not described.");
            return;
        }
        // After the form of a page the browser goes to a page, whatever a program would be answered.
        if (status == 303 && answer.RequestMessage.Content is (FormUrlEncodedContent or MultipartFormDataContent)) return;
        var described = Resolve(operation["responses"]![$"{status}"]);
        Assert.True(described is not null, $"{place}, which is not described: {text}");
        foreach (var header in Headers)
        {
            var sent = answer.Headers.TryGetValues(header, out _);
            var known = described["headers"]?[header];
            Assert.True(!sent || known is not null, $"{place} with {header}, which is not described.");
            Assert.True(sent || (bool?)known?["required"] != true, $"{place} without {header}.");
        }
        if (method == "HEAD") return;
        var type = answer.Content.Headers.ContentType?.MediaType;
        var content = described["content"]?.AsObject();
        if (content is null)
        {
            Assert.True(text.Length == 0, $"{place} with content, which is not described.");
            return;
        }
        Assert.True(type is not null && content.ContainsKey(type), $"{place} as {type}, which is not described.");
        if (type!.EndsWith("json", StringComparison.Ordinal))
        {
            var errors = ErrorsOf(content[type]!["schema"]!, text);
            Assert.True(errors.Count == 0, $"{place}, which does not fit its schema: {string.Join("; ", errors)}\n{text}");
        }
    }

    /// <returns>Each place of the JSON that does not fit the schema, with the reason.</returns>
    public static IReadOnlyList<string> ErrorsOf(JsonNode schema, string json)
    {
        var evaluated = Schemas.GetOrAdd(schema.ToJsonString(), Compile).Evaluate(JsonDocument.Parse(json).RootElement,
            new EvaluationOptions { OutputFormat = OutputFormat.List });
        return evaluated.IsValid ? [] :
            [.. (evaluated.Details ?? []).Where(detail => detail.Errors is not null)
                .Select(detail => $"{detail.InstanceLocation} {string.Join(", ", detail.Errors!.Values)}").Append("invalid")];
    }

    /// <summary>The form of a page can only post, and says in its address what method it means.</summary>
    private static string MethodOf(HttpRequestMessage request) =>
        QueryHelpers.ParseQuery(request.RequestUri!.Query).TryGetValue("form-method", out var meant)
            ? meant.ToString().ToUpperInvariant() : request.Method.Method;

    private static JsonSchema Compile(string schema)
    {
        var whole = JsonNode.Parse(Local(schema))!.AsObject();
        whole["$defs"] = Definitions.DeepClone();
        return JsonSchema.FromText(whole.ToJsonString());
    }

    private static JsonNode Closed(JsonNode schemas)
    {
        var copy = JsonNode.Parse(Local(schemas.ToJsonString()))!;
        foreach (var schema in Objects(copy).Where(schema => schema["properties"] is JsonObject && !schema.ContainsKey("$ref")
            && !schema.ContainsKey("additionalProperties") && !schema.ContainsKey("unevaluatedProperties")).ToList())
            // A repair is a change with further members, so that a change itself stays open.
            if (schema != copy["PlanFileChange"]) schema["additionalProperties"] = false;
        return copy;
    }

    private static IEnumerable<JsonObject> Objects(JsonNode? node) => node switch
    {
        JsonObject members => members.SelectMany(member => Objects(member.Value)).Prepend(members),
        JsonArray items => items.SelectMany(Objects),
        _ => [],
    };

    private static string Local(string schema) => schema.Replace("#/components/schemas/", "#/$defs/");

    private static JsonNode? Resolve(JsonNode? node) => (string?)node?["$ref"] is not { } reference ? node
        : reference.Split('/').Skip(1).Aggregate((JsonNode)Description, (at, name) => at[name]!);

    private static JsonObject? OperationOf(string method, string path)
    {
        var parts = path.Split('/');
        return Description["paths"]!.AsObject()
            .Select(described => (Template: described.Key.Split('/'), Operations: described.Value!.AsObject()))
            .Where(described => described.Template.Length == parts.Length && described.Template.Zip(parts)
                .All(part => part.First.StartsWith('{') || part.First.Equals(part.Second, StringComparison.OrdinalIgnoreCase)))
            .OrderBy(described => described.Template.Count(part => part.StartsWith('{')))
            .Select(described => described.Operations[method.ToLowerInvariant()]?.AsObject()).FirstOrDefault();
    }

    private static JsonObject Describe()
    {
        var app = WebApplication.CreateSlimBuilder().Build();
        Hosting.MapEndpoints(app);
        var endpoints = ((IEndpointRouteBuilder)app).DataSources.SelectMany(source => source.Endpoints);
        return ApiDescription.Of(ApiDescription.Operations(endpoints));
    }
}
