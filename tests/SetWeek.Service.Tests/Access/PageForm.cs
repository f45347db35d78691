using System.Net;
using System.Net.Http.Headers;
using System.Text.RegularExpressions;

namespace SetWeek.Service.Tests.Access;

/// <summary>A form of a page, filled in and sent as a browser without script does: in the order of its fields.</summary>
internal sealed class PageForm
{
    private readonly List<Field> fields = [];
    private readonly string action;
    private readonly bool isMultipart;
    private byte[]? file;

    /// <param name="Options">The values that may be chosen; null for a field in which anything may be written.</param>
    private sealed record Field(string Name, string Type, string? Value, IReadOnlyList<string>? Options);

    private PageForm(string form)
    {
        var start = form[..(form.IndexOf('>') + 1)];
        (action, isMultipart) = (AttributeOf(start, "action")!, AttributeOf(start, "enctype") == "multipart/form-data");
        foreach (Match element in Regex.Matches(form, "<input [^>]*>|<select .*?</select>", RegexOptions.Singleline))
        {
            var text = element.Value;
            if (AttributeOf(text, "name") is not { } name) continue;
            if (text.StartsWith("<select", StringComparison.Ordinal))
            {
                var options = Regex.Matches(text, "<option[^>]*>").Select(option => option.Value).ToList();
                fields.Add(new Field(name, "select",
                    AttributeOf(options.Find(option => option.Contains(" selected")) ?? options[0], "value"),
                    [.. options.Select(option => AttributeOf(option, "value") ?? "")]));
                continue;
            }
            var (type, value) = (AttributeOf(text, "type") ?? "text", AttributeOf(text, "value") ?? "");
            var isChoice = type is "radio" or "checkbox";
            fields.Add(new Field(name, type, isChoice && !text.Contains(" checked") ? null : value, isChoice ? [value] : null));
        }
    }

    /// <summary>The only form of a page with that button.</summary>
    public static PageForm With(string page, string button) => new(
        Regex.Matches(page, "<form .*?</form>", RegexOptions.Singleline).Select(match => match.Value)
            .Single(form => WebUtility.HtmlDecode(form).Contains($">{button}</button>", StringComparison.Ordinal)));

    /// <summary>Writes into a field, or chooses a value that the page offers.</summary>
    public PageForm Fill(string name, string value)
    {
        var of = fields.Index().Where(field => field.Item.Name == name && field.Item.Type != "hidden").ToList();
        Assert.Contains(of, field => field.Item.Options is null || field.Item.Options.Contains(value));
        foreach (var (index, field) in of)
            fields[index] = field with { Value = field.Type == "radio" && field.Options![0] != value ? null : value };
        return this;
    }

    public PageForm Attach(byte[] photograph)
    {
        file = photograph;
        return this;
    }

    public Task<ApiResponse> Send(Browser browser) => browser.Api.Send(HttpMethod.Post, action, Content(), ("Accept", "text/html"));

    private HttpContent Content()
    {
        var sent = fields.Where(field => field.Value is not null && field.Type != "file")
            .Select(field => KeyValuePair.Create(field.Name, field.Value!));
        if (!isMultipart) return new FormUrlEncodedContent(sent);
        var form = new MultipartFormDataContent();
        foreach (var (name, value) in sent) form.Add(new StringContent(value), $"\"{name}\"");
        foreach (var field in fields.Where(field => field.Type == "file"))
        {
            var content = new ByteArrayContent(file ?? []);
            content.Headers.ContentDisposition = new ContentDispositionHeaderValue("form-data")
                { Name = $"\"{field.Name}\"", FileName = file is null ? "\"\"" : "\"photo.jpg\"" };
            form.Add(content);
        }
        return form;
    }

    private static string? AttributeOf(string element, string name) =>
        Regex.Match(element, $" {name}=\"([^\"]*)\"") is { Success: true } found ? WebUtility.HtmlDecode(found.Groups[1].Value) : null;
}
