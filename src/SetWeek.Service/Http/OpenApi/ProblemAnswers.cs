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
        [401] = "Neither a valid token nor a session",
        [403] = "The role or the stores do not allow this, or a change by cookie lacks its form token",
        [404] = "It does not exist",
        [406] = "None of the forms that the Accept header names is available",
        [409] = "The current state does not allow it; the code gives the reason",
        [412] = "The resource has changed since the version given in If-Match",
        [413] = "The body is larger than 8 MiB",
        [415] = "The body is not JSON",
        [422] = "The Idempotency-Key was used with another body, or the request cannot be carried out",
        [428] = "If-Match is missing",
        [500] = "A fault of the service: nothing was changed, and its log has the details",
        [503] = "Temporarily unavailable: the database does not respond, "
            + "too many requests change the same thing, or the limit of concurrent computations is reached",
    };

    public static IEnumerable<int> Of(Operation operation)
    {
        var changes = operation.Method != "GET";
        var forms = operation.Replies.Select(reply => reply.ContentType).Distinct().Count();
        if (!operation.IsOpen)
        {
            yield return 400;
            yield return 401;
            yield return 403;
            if (operation.Path.Contains('{') || changes) yield return 404;
            if (forms > 1) yield return 406;
            // A plan that is not there yet cannot be shown, explained or simulated.
            if (operation.Path.Contains("/plan") || changes) yield return 409;
        }
        else if (operation.Path.Contains('{')) yield return 404;
        foreach (var status in operation.Refusals) yield return status;
        if (operation.IfMatch) yield return 412;
        var hasBody = operation.Body is not null || operation.Photos != PhotoUse.None;
        if (hasBody) yield return 413;
        if (hasBody) yield return 415;
        if (changes) yield return 422;
        if (operation.IfMatch) yield return 428;
        yield return 500;
        yield return 503;
    }

    public static JsonObject All(TypeSchemas schemas) =>
        new(Meanings.Select(entry => KeyValuePair.Create($"{entry.Key}", (JsonNode?)Answer(entry.Key, entry.Value, schemas))));

    private static JsonObject Answer(int status, string meaning, TypeSchemas schemas)
    {
        var answer = new JsonObject
        {
            ["description"] = meaning,
            ["content"] = new JsonObject
            {
                [Refused.ContentType] = new JsonObject
                {
                    ["schema"] = schemas.OfAnswer(typeof(ProblemDetails)), ["example"] = Example(status),
                },
                ["text/html"] = new JsonObject { ["schema"] = schemas.OfAnswer(typeof(string)) },
            },
        };
        if (status == 503) answer["headers"] = new JsonObject([ApiParameters.RetryAfter]);
        return answer;
    }

    private static JsonNode Example(int status) => JsonNode.Parse((status == 400
        ? Refused.For(new Model.Json.FaultReport(
            [new("/zones/0/maxPeople", "0 is out of range; give a whole number from 1 to 100.")]))
        : Refused.With(status, $"{Meanings[status]}.")).Content.Span)!;
}
