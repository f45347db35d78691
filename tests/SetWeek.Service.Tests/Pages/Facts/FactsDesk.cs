using System.Globalization;
using System.Text.Json.Nodes;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Service.Tests.Pages.Facts;

/// <summary>A lead in a browser without script, at the pages of the facts of a small week.</summary>
internal static class FactsDesk
{
    public const string FactsAddress = $"{FirstRain.Address}/facts";

    /// <summary>The week of a chain of its own, without a plan, and its lead.</summary>
    public static async Task<(FirstRain Week, Browser Lead)> Opened(RunningService service)
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var lead = await chain.SignedIn("lena", Role.Lead);
        lead.FormToken = null; // a form carries its own
        return (week, lead);
    }

    public static async Task<string> Page(Browser browser, string address)
    {
        var answer = await browser.Api.Get(address, ("Accept", "text/html"));
        Assert.True((200, "text/html") == (answer.Status, answer.ContentType), answer.Text);
        return answer.Text;
    }

    /// <summary>The value at a JSON Pointer (RFC 6901) without escapes; null if there is none.</summary>
    public static JsonNode? At(JsonNode json, string pointer) =>
        pointer.Split('/').Skip(1).Aggregate((JsonNode?)json, (at, part) => at is JsonArray list
            ? list.ElementAtOrDefault(int.Parse(part, CultureInfo.InvariantCulture)) : at?[part]);
}
