using System.Text.Json.Nodes;
using SetWeek.Service.Tests.Solving;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.KitDelays;

/// <summary>Stores with the same small week, for which one lorry brings the forms.</summary>
public sealed class LorryWeeks(ApiClient head, ApiClient lead)
{
    /// <summary>Later than expected, but before the second night, in which the forms are set anyway.</summary>
    public const string BeforeTheirNight = "2027-03-09T12:00";

    /// <summary>After the second night: the forms move to the third.</summary>
    public const string AfterTheirNight = "2027-03-10T12:00";

    public static string WeekOf(string store) => $"first-rain.{store}";

    public async Task Open(params string[] stores)
    {
        await ExpectStatus(201, head.Post("/directions", Direction));
        foreach (var store in stores)
        {
            await ExpectStatus(201, head.Post("/stores", Samples.Store(store, store)));
            await ExpectStatus(201, lead.Post("/weeks", Opening.Replace("harbour-street", store)));
        }
    }

    public async Task Publish(string store)
    {
        var requested = await ExpectStatus(202, lead.Post($"/weeks/{WeekOf(store)}/plans", """{"effort": 1, "workers": 1}"""));
        JsonNode? plan = null;
        await ServiceProcess.Until(async () =>
            (string?)(plan = (await lead.Get(requested.Location!)).Json)["state"] is not ("queued" or "solving"));
        var etag = (await lead.Get($"/weeks/{WeekOf(store)}")).ETag!;
        await ExpectStatus(204, lead.Post($"/weeks/{WeekOf(store)}/plans/{plan!["id"]}/publish", "{}", ("If-Match", etag)));
    }

    /// <summary>Reports the forms of every week as late; returns the address of the report.</summary>
    public async Task<string> Delay(string? eta, string more = "") => (await ExpectStatus(202, head.Post("/kit-delays",
        $$"""
        {"direction": "first-rain", "kit": "forms", "eta": {{(eta is null ? "null" : $"\"{eta}\"")}}{{more}}}
        """))).Location!;

    public async Task<JsonNode> Report(string address) => (await ExpectStatus(200, head.Get(address))).Json;

    public async Task<JsonNode> WhenDone(string address)
    {
        JsonNode? report = null;
        await ServiceProcess.Until(async () => (bool)(report = await Report(address))["done"]!);
        return report!;
    }

    public static JsonNode In(JsonNode report, string store) =>
        report["weeks"]!.AsArray().Single(week => (string?)week!["store"] == store)!;
}
