using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Microsoft.Net.Http.Headers;
using NodaTime;
using NodaTime.Text;
using SetWeek.Service.Clocks;
using SetWeek.Service.Pages;

namespace SetWeek.Service.Http.Forms;

/// <summary>
/// A form of a page, read as the request that a program would send. A page's forms therefore need no slices of their own.
/// </summary>
/// <remarks>
/// A field is named like the member of the body, with dots between levels: "limits.seconds". Its kind follows a colon: "number",
/// "boolean", "list" (every value of that name), "json", "now" or "row"; without a kind it is text. An empty field is left out,
/// but "now" becomes the time of receipt; a time of day in it ("22:05") is that of the night in <see cref="FormFields.Night"/>.
/// A level "lines[0]" is a row of a list, and its number says the order. If a field of the kind "row" is empty, its row is left
/// out. Names that begin with a colon are no members (<see cref="FormFields"/>).
/// </remarks>
public sealed partial class FormPost
{
    /// <summary>The page to show after the form has been accepted; null: what was made, or the page before.</summary>
    public string? Then { get; private init; }

    public string? IfMatch { get; private init; }

    /// <summary>The photograph of the form; null if it has none.</summary>
    public FormPhoto? Photo { get; private init; }

    public string? IdempotencyKey { get; private init; }
    public required ReadOnlyMemory<byte> Body { get; init; }

    /// <summary>The body without what the service filled in: a form that is sent again has the same.</summary>
    public required ReadOnlyMemory<byte> Sent { get; init; }

    /// <param name="fields">The fields in the order of the form.</param>
    /// <param name="received">The time of receipt, by the clock of planning.</param>
    public static FormPost Of(
        IReadOnlyList<KeyValuePair<string, IReadOnlyList<string>>> fields, Func<Instant> received, FormPhoto? photo = null)
    {
        // The body names the photograph of a page's form by its id.
        if (photo is { Id: { } id, IsOfPage: true }) fields = [.. fields, KeyValuePair.Create("photos:list", (IReadOnlyList<string>)[id])];
        var own = fields.Where(field => field.Key.StartsWith(':')).ToDictionary(field => field.Key, field => field.Value[0]);
        var night = FormNight.Of(own.GetValueOrDefault(FormFields.Night));
        return new FormPost
        {
            Body = BodyOf(fields, text => text == "" ? InstantPattern.General.Format(received()) : night?.TimeOf(text) ?? text),
            Sent = BodyOf(fields, text => text),
            Photo = photo,
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
        var clock = http.RequestServices.GetRequiredService<PlanningClock>();
        var post = Of([.. form.Select(field => KeyValuePair.Create(field.Key, (IReadOnlyList<string>)[.. field.Value.OfType<string>()]))],
            () => clock.Now, await PhotoOf(form, http.RequestAborted));
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

    /// <summary>Whether the body is the form of a page, or of a program with a photograph.</summary>
    public static bool IsForm(HttpContext http) => IsOf(http, "application/x-www-form-urlencoded") || IsMultipart(http);

    /// <summary>Whether the body is a form that may have files (RFC 7578).</summary>
    public static bool IsMultipart(HttpContext http) => IsOf(http, "multipart/form-data");

    private static bool IsOf(HttpContext http, string mediaType) =>
        MediaTypeHeaderValue.TryParse(http.Request.ContentType, out var type)
        && type.MediaType.Equals(mediaType, StringComparison.OrdinalIgnoreCase);

    /// <summary>The photograph of a form. A file field in which nothing was chosen is sent without a name and without bytes.</summary>
    /// <exception cref="BadHttpRequestException">The form has another file, or more than one.</exception>
    private static async Task<FormPhoto?> PhotoOf(IFormCollection form, CancellationToken cancelled)
    {
        var chosen = form.Files.Where(file => file.Length > 0 || file.FileName.Length > 0).ToList();
        if (chosen.Count == 0) return null;
        if (chosen is not [var file]) throw new BadHttpRequestException("A form has one photograph at most. Send each by itself.");
        var isOfPage = file.Name.EndsWith(FormPhoto.Kind, StringComparison.Ordinal);
        if (!isOfPage && file.Name != FormPhoto.UploadField)
            throw new BadHttpRequestException($"The file \"{file.Name}\" is not asked for.");
        using var content = new MemoryStream((int)file.Length);
        await file.CopyToAsync(content, cancelled);
        return new FormPhoto(form[isOfPage ? FormFields.Photo : FormPhoto.UploadId].FirstOrDefault(), content.ToArray()) { IsOfPage = isOfPage };
    }

    /// <param name="timeOf">What a field of the kind "now" says, from its text.</param>
    private static byte[] BodyOf(
        IReadOnlyList<KeyValuePair<string, IReadOnlyList<string>>> fields, Func<string, string> timeOf)
    {
        var (body, rows) = (new JsonObject(), new SortedDictionary<(string List, int Row), JsonObject>());
        var unused = fields.Where(field => field.Key.EndsWith(":row", StringComparison.Ordinal) && field.Value[0] == "")
            .Select(field => field.Key.Split('.')[0]).ToHashSet();
        foreach (var (name, values) in fields)
            if (!name.StartsWith(':') && !unused.Contains(name.Split('.')[0])) Add(name, values);
        foreach (var list in rows.GroupBy(row => row.Key.List))
            body[list.Key] = new JsonArray([.. list.Select(row => row.Value)]);
        return System.Text.Encoding.UTF8.GetBytes(body.ToJsonString());

        void Add(string field, IReadOnlyList<string> given)
        {
            var (name, kind) = field.Split(':', 2) is [var first, var second] ? (first, second) : (field, "");
            var values = kind == "now" ? [timeOf(given[0])] : given.Where(value => value != "").ToList();
            if (values.Count == 0 && kind != "list") return;
            var (path, at) = (name.Split('.'), body);
            foreach (var level in path[..^1]) at = Inner(at, level);
            at[path[^1]] = kind == "list" ? new JsonArray([.. values.Select(value => JsonValue.Create(value))])
                : Value(values[0], kind);
        }

        JsonObject Inner(JsonObject outer, string level)
        {
            if (outer == body && Row().Match(level) is { Success: true } row)
            {
                var key = (row.Groups[1].Value, int.Parse(row.Groups[2].ValueSpan, CultureInfo.InvariantCulture));
                if (!rows.TryGetValue(key, out var found)) rows[key] = found = new JsonObject();
                return found;
            }
            if (outer[level] is not JsonObject inner) outer[level] = inner = new JsonObject();
            return inner;
        }
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

    /// <summary>A row of a list that is a member of the body.</summary>
    [GeneratedRegex(@"^(\w+)\[([0-9]{1,3})\]\z")]
    private static partial Regex Row();

    [GeneratedRegex(@"^/(?![/\\])[\x21-\x5B\x5D-\x7E]*\z")]
    private static partial Regex LocalAddress();
}
