using System.Text.Json.Nodes;

namespace SetWeek.Browser.Tests;

/// <summary>A week at the limits (docs/formats.md): 60 people, 21 nights, 500 tasks.</summary>
internal static class LargestWeek
{
    /// <summary>The week with a published plan of all its tasks, half an hour into its first night.</summary>
    public static async Task<StoreWeek> InItsFirstNight(Site site)
    {
        var week = await StoreWeek.Open(site, Direction, Store, Opening);
        await week.PlanAndPublish("""{"effort": 3, "workers": 1}""");
        Assert.Equal(500, week.Work.Select(work => work.Task).Distinct().Count());
        week.MoveTo("2027-03-01T20:30");
        return week;
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
