using System.Net.Http.Headers;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;

namespace SetWeek.Service.Tests.Access;

/// <summary>
/// A form of a page, filled in and sent as a browser without script does: its fields in their order, without the boxes that are
/// not ticked (HTML Living Standard, section 4.10.22.4, Constructing the entry list).
/// </summary>
internal sealed class PageForm
{
    private readonly IHtmlFormElement form;
    private readonly IHtmlButtonElement pressed;
    private byte[]? file;

    private PageForm(IHtmlButtonElement pressed) => (this.pressed, form) = (pressed, pressed.Form!);

    /// <summary>The form of the first button of a page with that label.</summary>
    public static PageForm With(string page, string button) => new(new HtmlParser().ParseDocument(page)
        .QuerySelectorAll("form button").OfType<IHtmlButtonElement>().First(one => one.TextContent.Trim() == button));

    /// <summary>Where it is sent.</summary>
    public string Address => form.GetAttribute("action")!;

    public IEnumerable<string> Names => Fields.Select(NameOf).Distinct();

    /// <summary>Types into a field, or chooses a value that the page offers.</summary>
    public PageForm Fill(string name, string value)
    {
        var isFilled = false;
        foreach (var field in Fields.Where(field => NameOf(field) == name)) isFilled |= Fill(field, value);
        Assert.True(isFilled, $"The form has no field {name} for “{value}”: {string.Join(", ", Names)}");
        return this;
    }

    /// <summary>Takes the tick out of a box.</summary>
    public PageForm Untick(string name, string value)
    {
        Inputs(name).Single(box => box.Value == value).IsChecked = false;
        return this;
    }

    public PageForm Attach(byte[] photograph)
    {
        file = photograph;
        return this;
    }

    /// <summary>The values of the fields of that name, also of those that are not chosen.</summary>
    public IEnumerable<string> ValuesOf(string name) => Inputs(name).Select(input => input.Value);

    /// <summary>What it would send in the fields of that name.</summary>
    public IEnumerable<string> SentIn(string name) =>
        Fields.SelectMany(ValuesSent).Where(field => field.Key == name).Select(field => field.Value);

    /// <summary>A form that only reads sends its fields in the address (HTML Living Standard, Mutate action URL).</summary>
    public Task<ApiResponse> Send(Browser browser) => form.Method == "get"
        ? browser.Api.Get($"{Address}?{string.Join('&', Fields.SelectMany(ValuesSent)
            .Select(sent => $"{sent.Key}={Uri.EscapeDataString(sent.Value)}"))}", ("Accept", "text/html"))
        : browser.Api.Send(HttpMethod.Post, Address, Content(), ("Accept", "text/html"));

    private IEnumerable<IHtmlElement> Fields =>
        form.Elements.Where(element => (element is not IHtmlButtonElement || element == pressed) && element.HasAttribute("name"));

    private IEnumerable<IHtmlInputElement> Inputs(string name) =>
        Fields.OfType<IHtmlInputElement>().Where(field => field.Name == name);

    private static string NameOf(IHtmlElement field) => field.GetAttribute("name")!;

    private static bool Fill(IHtmlElement field, string value)
    {
        switch (field)
        {
            case IHtmlInputElement { Type: "hidden" or "file" }: return false;
            case IHtmlInputElement { Type: "radio" or "checkbox" } choice: return choice.Value == value && (choice.IsChecked = true);
            case IHtmlInputElement input: input.Value = value; return true;
            case IHtmlTextAreaElement area: area.Value = value; return true;
            case IHtmlSelectElement list when list.Options.Any(option => option.Value == value): list.Value = value; return true;
            default: return false;
        }
    }

    private HttpContent Content()
    {
        if (form.Enctype != "multipart/form-data") return new FormUrlEncodedContent(Fields.SelectMany(ValuesSent));
        var content = new MultipartFormDataContent();
        foreach (var field in Fields)
        {
            foreach (var (name, value) in ValuesSent(field)) content.Add(new StringContent(value), $"\"{name}\"");
            if (field is not IHtmlInputElement { Type: "file" } chosen) continue;
            var part = new ByteArrayContent(file ?? []);
            part.Headers.ContentDisposition = new ContentDispositionHeaderValue("form-data")
                { Name = $"\"{chosen.Name}\"", FileName = file is null ? "\"\"" : "\"photo.jpg\"" };
            content.Add(part);
        }
        return content;
    }

    private static IEnumerable<KeyValuePair<string, string>> ValuesSent(IHtmlElement field) => (field switch
    {
        IHtmlInputElement { Type: "radio" or "checkbox", IsChecked: false } or IHtmlInputElement { Type: "file" } => [],
        IHtmlInputElement input => [input.Value],
        IHtmlButtonElement button => [button.Value],
        IHtmlTextAreaElement area => [area.Value],
        IHtmlSelectElement list => list.Options.Where(option => option.IsSelected).Select(option => option.Value),
        _ => Enumerable.Empty<string>(),
    }).Select(value => KeyValuePair.Create(NameOf(field), value));
}
