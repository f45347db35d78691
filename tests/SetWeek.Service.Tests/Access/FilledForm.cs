using System.Net;
using System.Text.RegularExpressions;

namespace SetWeek.Service.Tests.Access;

/// <summary>A form of a page that somebody fills in. It sends what a browser without script would send.</summary>
public sealed class FilledForm
{
    private readonly string address;
    private readonly List<(string Name, string Value, bool IsSent)> fields = [];

    /// <summary>The only form of the page with that button.</summary>
    public FilledForm(string page, string button)
    {
        var form = Regex.Matches(page, "<form .*?</form>", RegexOptions.Singleline).Select(match => match.Value)
            .Single(form => WebUtility.HtmlDecode(form).Contains($">{button}</button>", StringComparison.Ordinal));
        address = AttributeOf(form, "action");
        foreach (Match field in Regex.Matches(form, "<(input|textarea)( [^>]*)>"))
        {
            var isChoice = Regex.IsMatch(field.Value, " type=\"(radio|checkbox)\"");
            var value = AttributeOf(field.Value, "value");
            fields.Add((AttributeOf(field.Value, "name"), isChoice && value == "" && !field.Value.Contains(" value=", StringComparison.Ordinal)
                ? "on" : value, !isChoice || Regex.IsMatch(field.Value, @" checked(\s|>|=)")));
        }
    }

    public IEnumerable<string> Names => fields.Select(sent => sent.Name).Distinct();

    /// <summary>The values that somebody can choose for a field.</summary>
    public IEnumerable<string> ChoicesOf(string name) => fields.Where(sent => sent.Name == name).Select(sent => sent.Value);

    /// <summary>Types a text, or chooses one of the radio buttons of that name.</summary>
    public FilledForm Set(string name, string value)
    {
        var found = fields.FindIndex(field => field.Name == name && (field.IsSent || field.Value == value));
        Assert.True(found >= 0, $"The form has no field {name} for \"{value}\": {string.Join(", ", Names)}");
        for (var index = 0; index < fields.Count; index++)
            if (fields[index].Name == name) fields[index] = fields[index] with { IsSent = fields[index].Value == value };
        if (fields.All(field => field.Name != name || !field.IsSent)) fields[found] = (name, value, true);
        return this;
    }

    /// <summary>Ticks a box, or takes its tick away.</summary>
    public FilledForm Tick(string name, string value, bool isTicked)
    {
        var found = fields.FindIndex(field => field.Name == name && field.Value == value);
        Assert.True(found >= 0, $"The form has no box {name} {value}.");
        fields[found] = (name, value, isTicked);
        return this;
    }

    public Task<HttpResponseMessage> Send(Browser browser) => browser.PostForm(address,
        fields.Where(field => field.IsSent).Select(field => KeyValuePair.Create(field.Name, field.Value)));

    private static string AttributeOf(string element, string name) =>
        WebUtility.HtmlDecode(Regex.Match(element, $" {name}=\"([^\"]*)\"").Groups[1].Value);
}
