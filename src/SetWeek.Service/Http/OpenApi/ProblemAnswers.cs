using System.Text.Json.Nodes;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Http.OpenApi;

/// <summary>Which refusals an operation may give, and what each looks like.</summary>
internal static class ProblemAnswers
{
    private static readonly IReadOnlyDictionary<int, string> Meanings = new Dictionary<int, string>
    {
        [400] = "What was sent is wrong; every fault in the body is named, with its JSON Pointer",
        [401] = "No valid token",
        [403] = "The token's role or stores do not allow it",
        [404] = "There is no such thing",
        [409] = "The state of things forbids it; the code says why",
        [412] = "It has changed since the version of If-Match",
        [413] = "The body is larger than 8 MiB",
        [415] = "The body is not JSON",
        [422] = "The Idempotency-Key was used with another body, or the body cannot be done",
        [428] = "If-Match is missing",
        [503] = "Not now: the database does not answer, too many others change the same thing, or too much is worked out",
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
        new(Meanings.Select(one => KeyValuePair.Create($"{one.Key}", (JsonNode?)Answer(one.Key, one.Value, schemas))));

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
