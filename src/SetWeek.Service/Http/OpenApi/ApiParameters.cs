using System.Text.Json.Nodes;
using SetWeek.Service.Http.Idempotency;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Http.OpenApi;

/// <summary>The parameters of an operation, and the headers of its successful answers.</summary>
internal static class ApiParameters
{
    private const string Id = "^[a-z0-9][a-z0-9.-]*$";

    public static IEnumerable<JsonNode> Of(Operation operation)
    {
        foreach (var part in operation.Path.Split('/').Where(part => part.StartsWith('{')))
            yield return part == "{link}"
                ? Parameter("link", "path", "The signed link", "eyJhbGciOiJIUzI1NiJ9.e30.c2lnbmF0dXJl", Text())
                : part == "{number}" ? Parameter("number", "path", "The number in the list, from 1", 1, WholeFromOne())
                : Parameter(part.Trim('{', '}'), "path", $"The id of the {Named(part, operation)}", ExampleOf(part, operation),
                    IdText());
        foreach (var value in operation.Query)
            yield return value.Shape == typeof(int)
                ? Parameter(value.Name, "query", value.Meaning, JsonNode.Parse(value.Example)!, Whole(), required: false)
                : Parameter(value.Name, "query", value.Meaning, value.Example, Text(), required: false);
        if (operation.IfMatch)
            yield return Parameter("If-Match", "header",
                "The ETag of the version on which the decision is based. Without it the answer is 428", "\"7\"", Text());
        if (operation.Replies.Any(reply => reply.HasETag))
            yield return Parameter("If-None-Match", "header",
                "An ETag that was read before; if it is still the current one, the answer is 304", "\"7\"", Text(),
                required: false);
        if (operation is { Method: "POST", IsCommand: true })
            yield return Parameter(IdempotencyKey.Header, "header",
                "Makes a repeated request safe: for 14 days the same key returns the first answer", "lena.42",
                new JsonObject { ["type"] = "string", ["pattern"] = "^[!-~]+$", ["minLength"] = 1, ["maxLength"] = 200 },
                required: false);
    }

    /// <summary>The headers of a successful answer.</summary>
    public static IEnumerable<KeyValuePair<string, JsonNode?>> Headers(Operation operation, Reply reply)
    {
        if (reply.HasETag || (operation.IsCommand && reply.Status is 200 or 201 or 202 or 204)) yield return ETag;
        if (reply.Status is 201 or 202) yield return Header("Location", "The address of what was made", required: true);
        if (reply.Status == 303) yield return Header("Location", "The page to show next", required: true);
        if (reply.HasLink)
            yield return Header("Link",
                "A related address (RFC 8288): the next page, if any, with rel=next; a description with rel=service-desc",
                required: false);
    }

    public static KeyValuePair<string, JsonNode?> ETag =>
        Header("ETag", "The version; send it as If-Match with a decision", required: false);

    public static KeyValuePair<string, JsonNode?> RetryAfter => KeyValuePair.Create("Retry-After", (JsonNode?)new JsonObject
    {
        ["description"] = "After how many seconds to try again, if that is known", ["schema"] = Whole(),
    });

    private static KeyValuePair<string, JsonNode?> Header(string name, string meaning, bool required) =>
        KeyValuePair.Create(name, (JsonNode?)new JsonObject
        {
            ["description"] = meaning, ["required"] = required, ["schema"] = Text(),
        });

    /// <summary>The schema of an id.</summary>
    public static JsonObject IdText() => new() { ["type"] = "string", ["pattern"] = Id };

    private static JsonObject WholeFromOne()
    {
        var schema = Whole();
        schema["minimum"] = 1;
        return schema;
    }

    private static JsonObject Text() => new() { ["type"] = "string" };

    private static JsonObject Whole() => new() { ["type"] = "integer", ["format"] = "int32" };

    private static JsonObject Parameter(string name, string location, string meaning, JsonNode example, JsonObject schema,
        bool required = true) => new()
    {
        ["name"] = name, ["in"] = location, ["description"] = meaning, ["required"] = required, ["schema"] = schema,
        ["example"] = example,
    };

    private static string Named(string part, Operation operation) => part.Trim('{', '}') switch
    {
        "id" => operation.Path.Split('/')[1].TrimEnd('s'),
        "calendar" => "calendar, which is secret",
        var name => name,
    };

    private static string ExampleOf(string part, Operation operation) => (part, operation.Path.Split('/')[1]) switch
    {
        ("{id}", "stores") => "harbour-street",
        ("{id}", "directions") => "first-rain",
        ("{id}", "memos") or ("{memo}", _) => "0195c8e2b7d04c3fa1e69d8c7b5a4f32",
        ("{id}", _) => "first-rain.harbour-street",
        ("{plan}", _) => "0195c8e2a3f47b1c9d0e5f6a7b8c9d0e",
        ("{kit}", _) => "props",
        ("{task}", _) => "canopy.hang",
        ("{person}", _) => "c1",
        ("{night}", _) => "night-1",
        ("{sheet}", _) => "lead.pdf",
        ("{zone}", _) => "window",
        ("{display}", _) => "canopy",
        ("{item}", _) => "ladder",
        ("{pin}", _) => "pin-1",
        ("{kind}", _) => "nights",
        ("{question}", _) => "phone-3.q1",
        ("{report}", _) => "phone-3.17",
        ("{phone}", _) => "phone-1f3a9c02",
        ("{photo}", _) => "phone-3.p1",
        ("{snag}", _) => "6",
        ("{stop}", _) => "phone-3.24",
        ("{calendar}", _) => "5f0c6b1de2a94873c1d05e8f7a9b2c3d4e6f8091a2b3c4d5e6f708192a3b4c5d.ics",
        _ => throw new InvalidOperationException($"{operation.Path}: give {part} an example here."),
    };
}
