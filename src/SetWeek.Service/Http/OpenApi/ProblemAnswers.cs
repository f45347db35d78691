using System.Text.Json.Nodes;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Http.OpenApi;

/// <summary>The refusals that an operation may return, and their descriptions.</summary>
internal static class ProblemAnswers
{
    private static readonly IReadOnlyDictionary<int, string> Meanings = new Dictionary<int, string>
    {
        [400] = "The request is invalid; every fault in the body is listed with its JSON Pointer",
        [401] = "No valid token",
        [403] = "The role or the stores of the token do not allow this",
        [404] = "It does not exist",
        [409] = "The current state does not allow it; the code gives the reason",
        [412] = "The resource has changed since the version given in If-Match",
        [413] = "The body is larger than 8 MiB",
        [415] = "The body is not JSON",
        [422] = "The Idempotency-Key was used with another body, or the request cannot be carried out",
        [428] = "If-Match is missing",
        [503] = "Temporarily unavailable: the database does not respond, "
            + "too many requests change the same thing, or the limit of concurrent computations is reached",
    };

    public static IEnumerable<int> Of(Operation operation)
    {
        var command = operation.Method != "GET";
        yield return 400;
        yield return 401;
        yield return 403;
        if (operation.Path.Contains('{') || command) yield return 404;
        if (command) yield return 409;
        if (operation.IfMatch) yield return 412;
        if (operation.Body is not null) yield return 413;
        if (operation.Body is not null) yield return 415;
        if (command) yield return 422;
        if (operation.IfMatch) yield return 428;
        yield return 503;
    }

    public static JsonObject All(JsonSchemas schemas) =>
        new(Meanings.Select(entry => KeyValuePair.Create($"{entry.Key}", (JsonNode?)Answer(entry.Key, entry.Value, schemas))));

    private static JsonObject Answer(int status, string meaning, JsonSchemas schemas) => new()
    {
        ["description"] = meaning,
        ["content"] = new JsonObject
        {
            [Refused.ContentType] = new JsonObject
            {
                ["schema"] = schemas.Of(typeof(ProblemDetails), "Problem"), ["example"] = Example(status),
            },
        },
    };

    private static JsonNode Example(int status) => JsonNode.Parse((status == 400
        ? Refused.For(new Model.Json.FaultReport(
            [new("/zones/0/maxPeople", "0 is out of range; give a whole number from 1 to 100.")]))
        : Refused.With(status, $"{Meanings[status]}.")).Content.Span)!;
}
