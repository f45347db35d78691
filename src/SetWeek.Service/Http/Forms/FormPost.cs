using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Microsoft.Net.Http.Headers;
using SetWeek.Service.Pages;

namespace SetWeek.Service.Http.Forms;

/// <summary>
/// A form of a page, read as the request that a program would send. A page's forms therefore need no slices of their own.
/// </summary>
/// <remarks>
/// A field is named like the member of the body, with dots between levels: "limits.seconds". Its kind follows a colon: "number",
/// "boolean", "list" (every value of that name) or "json"; without a kind it is text. An empty field is left out. Names that begin
/// with a colon are no members (<see cref="FormFields"/>).
/// </remarks>
public sealed partial class FormPost
{
    /// <summary>The page to show after the form has been accepted; null: what was made, or the page before.</summary>
    public string? Then { get; private init; }

    public string? IfMatch { get; private init; }
    public string? IdempotencyKey { get; private init; }
    public required ReadOnlyMemory<byte> Body { get; init; }

    /// <param name="fields">The fields in the order of the form.</param>
    public static FormPost Of(IEnumerable<KeyValuePair<string, IReadOnlyList<string>>> fields)
    {
        var body = new JsonObject();
        var own = new Dictionary<string, string>();
        foreach (var (name, values) in fields)
            if (name.StartsWith(':')) own[name] = values[0];
            else Add(body, name, [.. values.Where(value => value != "")]);
        return new FormPost
        {
            Body = System.Text.Encoding.UTF8.GetBytes(body.ToJsonString()),
            // An address of this service only: "//host" and "/\host" lead elsewhere.
            Then = own.GetValueOrDefault(FormFields.Then) is { } then && LocalAddress().IsMatch(then) ? then : null,
            IfMatch = own.GetValueOrDefault(FormFields.IfMatch),
            IdempotencyKey = own.GetValueOrDefault(FormFields.IdempotencyKey),
        };
    }

    /// <summary>The form of the request; null if its body is none.</summary>
    public static async Task<FormPost?> Of(HttpContext http)
    {
        if (!IsForm(http)) return null;
        if (http.Features.Get<FormPost>() is { } known) return known;
        var form = await Read(http);
        var post = Of(form.Select(field => KeyValuePair.Create(field.Key, (IReadOnlyList<string>)[.. field.Value.OfType<string>()])));
        http.Features.Set(post);
        return post;
    }

    /// <exception cref="BadHttpRequestException">The body is no form: characters that are none, or too many fields.</exception>
    private static async Task<IFormCollection> Read(HttpContext http)
    {
        try
        {
            return await http.Request.ReadFormAsync(http.RequestAborted);
        }
        catch (InvalidDataException invalid)
        {
            throw new BadHttpRequestException("The form is not valid.", invalid);
        }
    }

    /// <summary>Whether the body is the form of a page, without files.</summary>
    public static bool IsForm(HttpContext http) => MediaTypeHeaderValue.TryParse(http.Request.ContentType, out var type)
        && type.MediaType.Equals("application/x-www-form-urlencoded", StringComparison.OrdinalIgnoreCase);

    private static void Add(JsonObject body, string field, IReadOnlyList<string> values)
    {
        var (name, kind) = field.Split(':', 2) is [var first, var second] ? (first, second) : (field, "");
        if (values.Count == 0 && kind != "list") return;
        var path = name.Split('.');
        foreach (var level in path[..^1])
        {
            if (body[level] is not JsonObject inner) body[level] = inner = new JsonObject();
            body = inner;
        }
        body[path[^1]] = kind == "list" ? new JsonArray([.. values.Select(value => JsonValue.Create(value))])
            : Value(values[0], kind);
    }

    /// <summary>Text that is not of its kind stays text, so that the slice names the fault.</summary>
    private static JsonNode? Value(string text, string kind) => kind switch
    {
        "number" when Number().IsMatch(text) => JsonNode.Parse(text),
        "boolean" when text is "true" or "false" => JsonValue.Create(text == "true"),
        "json" => Parsed(text),
        _ => JsonValue.Create(text),
    };

    private static JsonNode? Parsed(string text)
    {
        try
        {
            return JsonNode.Parse(text);
        }
        catch (JsonException)
        {
            return JsonValue.Create(text);
        }
    }

    /// <summary>RFC 8259, section 6, without exponents and bounded.</summary>
    [GeneratedRegex(@"^-?(0|[1-9][0-9]{0,14})(\.[0-9]{1,9})?\z")]
    private static partial Regex Number();

    [GeneratedRegex(@"^/(?![/\\])[\x21-\x5B\x5D-\x7E]*\z")]
    private static partial Regex LocalAddress();
}
