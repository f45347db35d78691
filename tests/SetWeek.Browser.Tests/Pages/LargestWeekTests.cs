using System.Text.Json.Nodes;
using Microsoft.Playwright;
using SetWeek.Service.Access;
using Xunit.Abstractions;

namespace SetWeek.Browser.Tests.Pages;

/// <summary>A week at the limits (docs/formats.md): 60 people, 21 nights, 500 tasks. Its pages open, fit, and stay small.</summary>
[Collection(SiteCollection.Name)]
public sealed class LargestWeekTests(Site site, ITestOutputHelper output)
{
    /// <summary>With style sheet, fonts, modules and icons, as they are sent.</summary>
    private const int MostBytes = 150_000;

    [BrowserFact]
    public async Task Its_pages_open_and_none_scrolls_sideways_or_is_heavy()
    {
        var week = await StoreWeek.Open(site, Direction, Store, Opening);
        await week.PlanAndPublish("""{"seconds": 8, "workers": 1}""");
        Assert.Equal(500, week.Work.Select(work => work.Task).Distinct().Count());
        site.Clock.MoveTo("2027-03-01T20:30");
        var faults = new List<string>();
        foreach (var (role, person, address) in new (Role, string, string)[]
        {
            (Role.Lead, "lena", $"{week.Address}/plan"), (Role.Lead, "lena", $"{week.Address}/plan?night=n11"),
            (Role.Lead, "lena", $"{week.Address}/tonight"), (Role.Lead, "lena", $"{week.Address}/nights/n1/opening"),
            (Role.Lead, "lena", $"{week.Address}/crew"), (Role.Lead, "lena", $"{week.Address}/facts"),
            (Role.Lead, "lena", $"{week.Address}/told"), (Role.Lead, "lena", $"{week.Address}/hours"),
            (Role.Crew, "c1", $"{week.Address}/nights/n1/sheet?person=c1"), (Role.HeadOffice, "head", "/stores"),
        })
        {
            await using var visit = await site.Open();
            await visit.SignInUnseen(week.Chain, person, role, role == Role.HeadOffice ? [] : [week.Store]);
            await visit.Page.SetViewportSizeAsync(360, 900);
            IResponse? answer = null;
            var bytes = await Transfer.Of(visit, async () => answer = await visit.Page.GotoAsync(address));
            if (answer!.Status != 200) faults.Add($"{address}: {answer.Status}");
            if (bytes > MostBytes) faults.Add($"{address}: {bytes / 1000:F0} kB");
            foreach (var width in new[] { 360, 820, 1440 })
            {
                await visit.Page.SetViewportSizeAsync(width, 900);
                faults.AddRange((await Inspection.Sideways(visit.Page)).Select(fault => $"{address} at {width}: {fault}"));
            }
            faults.AddRange(visit.Complaints.Select(complaint => $"{address}: {complaint}"));
            output.WriteLine($"{address}: {bytes / 1000:F0} kB");
        }
        Assert.True(faults.Count == 0, string.Join('\n', faults));
    }

    /// <summary>Twenty-five displays of twenty tasks each, an hour's work for one person.</summary>
    private static string Direction => new JsonObject
    {
        ["id"] = "first-rain", ["name"] = "First Rain",
        ["displays"] = Array(25, index => new JsonObject
        {
            ["id"] = $"d{index}", ["name"] = $"Display {index}", ["commitment"] = "must",
        }),
        ["tasks"] = Array(500, index => new JsonObject
        {
            ["id"] = $"t{index}", ["name"] = $"Dress part {index % 20} of display {index / 20}", ["display"] = $"d{index / 20}",
            ["zone"] = $"z{index / 20 % 10}",
            ["modes"] = new JsonArray(JsonNode.Parse("""{"minutes": 60, "roles": [{"skill": "dressing", "people": 1}]}""")),
            ["steps"] = new JsonArray("Unpack it and count it.", "Fix it as in the drawing.", "Clear the floor."),
            ["checks"] = new JsonArray("It stands straight."), ["cautions"] = new JsonArray("Two people lift it."),
        }),
    }.ToJsonString();

    private static string Store => new JsonObject
    {
        ["id"] = "harbour-street", ["name"] = "Harbour Street", ["timeZone"] = "Europe/London",
        ["zones"] = Array(10, index => new JsonObject { ["id"] = $"z{index}", ["name"] = $"Bay {index}", ["maxPeople"] = 6 }),
    }.ToJsonString();

    /// <summary>Monday 1 March to Sunday 21 March 2027, six hours a night.</summary>
    private static string Opening => new JsonObject
    {
        ["id"] = "first-rain.harbour-street", ["direction"] = "first-rain", ["store"] = "harbour-street", ["currency"] = "GBP",
        ["launch"] = "2027-03-24T09:00",
        ["nights"] = Array(21, index => new JsonObject
        {
            ["id"] = $"n{index + 1}", ["opens"] = $"2027-03-{index + 1:D2}T20:00", ["closes"] = $"2027-03-{index + 2:D2}T02:00",
        }),
        ["crew"] = Array(60, index => new JsonObject
        {
            ["id"] = $"c{index}", ["name"] = $"Person {index} of the crew", ["skills"] = new JsonObject { ["dressing"] = 1 },
            ["keyholder"] = index % 5 == 0, ["ratePerHour"] = 1200,
            ["available"] = Array(21, night => new JsonObject { ["night"] = $"n{night + 1}" }),
        }),
        ["rules"] = JsonNode.Parse("""
            {"minShiftMinutes": 60, "maxShiftMinutes": 360, "minPeople": 2, "keyholderPresent": true, "minRestMinutes": 660}
            """),
        ["goals"] = new JsonArray("leftOut", "finish"), ["replanGoals"] = new JsonArray("leftOut", "changes", "finish"),
    }.ToJsonString();

    private static JsonArray Array(int count, Func<int, JsonObject> item) => [.. Enumerable.Range(0, count).Select(item)];
}
