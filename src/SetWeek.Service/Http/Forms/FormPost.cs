using System.Text;
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
/// "boolean", "list" (every value of that name), "lines" (a list with a line of text each), "json", "time", "now", "row",
/// "row-number" or "row-text"; without a kind it is text. An empty field is left out. Three kinds read a time of day ("22:05") as
/// that of the night in <see cref="FormFields.Night"/>: "time"; "now", which becomes the time of receipt if it is empty; and
/// "row". A level "lines[0]" is a row of a list, and its number says the order. If a field of the kind "row" is empty, its row is
/// left out, unless it has a number of the kind "row-number" or a text of the kind "row-text". A level with other signs is
/// percent-encoded (<see cref="FormFields.Level"/>). A level "{:skill}" is what the field ":skill" says; if that is empty, the
/// field is left out. Names that begin with a colon are no members (<see cref="FormFields"/>). One of them,
/// <see cref="FormFields.Body"/>, may be the whole body.
/// </remarks>
public sealed partial class FormPost
{
    /// <summary>The page to show after the form has been accepted; null: what was made, or the page before.</summary>
    public string? Then { get; private init; }

    /// <summary>The page with the form, which shows it again if it is refused; null: the refusal has a page of its own.</summary>
    public string? From { get; private init; }

    /// <summary>What was typed, by the names of the fields.</summary>
    public required IReadOnlyDictionary<string, IReadOnlyList<string>> Typed { get; init; }

    public string? IfMatch { get; private init; }

    /// <summary>The photograph of the form; null if it has none.</summary>
    public FormPhoto? Photo { get; private init; }

    public string? IdempotencyKey { get; private init; }

    /// <summary>
    /// The names that begin with a colon and came more than once. None of their values counts, and the request is refused.
    /// </summary>
    public IReadOnlyList<string> GivenTwice { get; private init; } = [];

    public required ReadOnlyMemory<byte> Body { get; init; }

    /// <summary>Where the body has each field, as JSON Pointers. A row that was left out is not there.</summary>
    public required IReadOnlyDictionary<string, string> Pointers { get; init; }

    /// <summary>The body without what the service filled in: a form that is sent again has the same.</summary>
    public required ReadOnlyMemory<byte> Sent { get; init; }

    /// <param name="fields">The fields in the order of the form.</param>
    /// <param name="received">The time of receipt, by the clock of planning.</param>
    /// <param name="file">The file that is the whole body; null if none was chosen.</param>
    public static FormPost Of(IReadOnlyList<KeyValuePair<string, IReadOnlyList<string>>> fields, Func<Instant> received,
        FormPhoto? photo = null, ReadOnlyMemory<byte>? file = null)
    {
        // A file counts as typed, so that it is still there if the form is shown again.
        if (file is { } chosen)
            fields = [.. fields.Where(field => field.Key != FormFields.Body),
                KeyValuePair.Create(FormFields.Body, (IReadOnlyList<string>)[Encoding.UTF8.GetString(chosen.Span)])];
        var typed = fields.ToDictionary(field => field.Key, field => field.Value);
        // The body names the photograph of a page's form by its id.
        if (photo is { Id: { } id, IsOfPage: true })
            fields = [.. fields, KeyValuePair.Create("photos:list", (IReadOnlyList<string>)[id])];
        var named = fields.Where(field => field.Key.StartsWith(':')).ToLookup(field => field.Value.Count == 1);
        var own = named[true].ToDictionary(field => field.Key, field => field.Value[0]);
        var night = FormNight.Of(own.GetValueOrDefault(FormFields.Night));
        var whole = file;
        if (whole is null && own.TryGetValue(FormFields.Body, out var typedBody)) whole = Encoding.UTF8.GetBytes(typedBody);
        var (body, pointers) = FormBody.Of(
            fields, said => night?.TimeOf(said) ?? said, () => InstantPattern.General.Format(received()));
        return new FormPost
        {
            Body = whole ?? body,
            Sent = whole ?? FormBody.Of(fields, said => said, () => "").Json,
            Pointers = whole is null ? pointers : new Dictionary<string, string>(),
            Photo = photo,
            Typed = typed,
            Then = Local(own.GetValueOrDefault(FormFields.Then)),
            From = Local(own.GetValueOrDefault(FormFields.From)),
            IfMatch = own.GetValueOrDefault(FormFields.IfMatch),
            IdempotencyKey = own.GetValueOrDefault(FormFields.IdempotencyKey),
            GivenTwice = [.. named[false].Select(field => field.Key)],
        };
    }

    /// <summary>The form of the request; null if its body is none.</summary>
    public static async Task<FormPost?> Of(HttpContext http)
    {
        if (!IsForm(http)) return null;
        if (http.Features.Get<FormPost>() is { } known) return known;
        var form = await Read(http);
        var clock = http.RequestServices.GetRequiredService<PlanningClock>();
        var post =
            Of([.. form.Select(field => KeyValuePair.Create(field.Key, ValuesOf(field.Key, [.. field.Value.OfType<string>()])))],
            () => clock.Now, await PhotoOf(form, http.RequestAborted), await FileOf(form, http.RequestAborted));
        http.Features.Set(post);
        return post;
    }

    /// <summary>
    /// A file field in which nothing was chosen is read as an empty text. Of the whole body, it stands before the text of that
    /// name.
    /// </summary>
    private static IReadOnlyList<string> ValuesOf(string name, IReadOnlyList<string> values) =>
        name == FormFields.Body ? [.. values.Where(value => value != "").DefaultIfEmpty("")] : values;

    /// <exception cref="BadHttpRequestException">
    /// The body is no form: characters that are none, too many fields, or parts that do not end.
    /// </exception>
    private static async Task<IFormCollection> Read(HttpContext http)
    {
        try
        {
            return await http.Request.ReadFormAsync(http.RequestAborted);
        }
        catch (Exception invalid) when (invalid is InvalidDataException or IOException and not BadHttpRequestException)
        {
            throw new BadHttpRequestException("The form is not valid.", invalid);
        }
    }

    /// <summary>
    /// An address of this service only: "//host" and "/\host" lead elsewhere. No address has the character NUL.
    /// </summary>
    private static string? Local(string? address) =>
        address is not null && LocalAddress().IsMatch(address) && !address.Contains("%00", StringComparison.Ordinal)
            ? address : null;

    /// <summary>Whether the body is the form of a page, or of a program with a photograph.</summary>
    public static bool IsForm(HttpContext http) => IsOf(http, "application/x-www-form-urlencoded") || IsMultipart(http);

    /// <summary>
    /// Whether the form is in UTF-8, as every form of a page is (URL Standard, application/x-www-form-urlencoded).
    /// </summary>
    public static bool IsInUtf8(HttpContext http) => !MediaTypeHeaderValue.TryParse(http.Request.ContentType, out var type)
        || !type.Charset.HasValue || type.Charset.Equals("utf-8", StringComparison.OrdinalIgnoreCase);

    /// <summary>Whether the body is a form that may have files (RFC 7578).</summary>
    public static bool IsMultipart(HttpContext http) => IsOf(http, "multipart/form-data");

    private static bool IsOf(HttpContext http, string mediaType) =>
        MediaTypeHeaderValue.TryParse(http.Request.ContentType, out var type)
        && type.MediaType.Equals(mediaType, StringComparison.OrdinalIgnoreCase);

    /// <summary>
    /// The photograph of a form. A file field in which nothing was chosen is sent without a name and without bytes.
    /// </summary>
    /// <exception cref="BadHttpRequestException">The form has another file, or more than one.</exception>
    private static async Task<FormPhoto?> PhotoOf(IFormCollection form, CancellationToken cancelled)
    {
        var chosen = form.Files.Where(file => IsChosen(file) && file.Name != FormFields.Body).ToList();
        if (chosen.Count == 0) return null;
        if (chosen is not [var file])
            throw new BadHttpRequestException("A form has one photograph at most. Send each by itself.");
        var isOfPage = file.Name.EndsWith(FormPhoto.Kind, StringComparison.Ordinal);
        if (!isOfPage && file.Name != FormPhoto.UploadField)
            throw new BadHttpRequestException($"The file \"{file.Name}\" is not asked for.");
        return new FormPhoto(form[isOfPage ? FormFields.Photo : FormPhoto.UploadId].FirstOrDefault(),
            await ContentOf(file, cancelled))
            { IsOfPage = isOfPage };
    }

    /// <summary>The file that is the whole body; null if none was chosen.</summary>
    private static async Task<ReadOnlyMemory<byte>?> FileOf(IFormCollection form, CancellationToken cancelled)
    {
        if (form.Files.FirstOrDefault(file => IsChosen(file) && file.Name == FormFields.Body) is not { } chosen) return null;
        return await ContentOf(chosen, cancelled);
    }

    private static bool IsChosen(IFormFile file) => file.Length > 0 || file.FileName.Length > 0;

    private static async Task<byte[]> ContentOf(IFormFile file, CancellationToken cancelled)
    {
        using var content = new MemoryStream((int)file.Length);
        await file.CopyToAsync(content, cancelled);
        return content.ToArray();
    }

    [GeneratedRegex(@"^/(?![/\\])[\x21-\x5B\x5D-\x7E]*\z")]
    private static partial Regex LocalAddress();
}
