using System.Text.RegularExpressions;
using Microsoft.Playwright;
using SetWeek.Service.Tests;
using SetWeek.Service.Tests.Weeks;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Offline;

/// <summary>A Monday with two pieces, painting the wall and drawing lines on it, and what a person does with them on a phone.</summary>
internal static class TwoPieces
{
    /// <summary>One person alone may do both pieces of Monday. Paint asks for the air handling before it begins.</summary>
    private static readonly string Direction = FirstRain.Direction
        .Replace("\"cautions\": [\"Air the room.\"]}", """
            "cautions": ["Air the room."], "traits": ["paint"]},
            {"id": "wall.lines", "name": "Draw the lines", "display": "wall", "zone": "window",
             "modes": [{"minutes": 30, "roles": [{"skill": "painting", "people": 1, "level": 2}]}],
             "checks": ["The lines are plumb."], "cautions": ["Keep the steps dry."],
             "after": [{"task": "wall.paint", "sameNight": true}]}
            """, StringComparison.Ordinal)
        .Replace("""{"skill": "painting", "people": 1}""", """{"skill": "painting", "people": 1, "level": 2}""",
            StringComparison.Ordinal);

    public static async Task<StoreWeek> Published(Site site)
    {
        var week = await StoreWeek.Open(site, Direction, Samples.Store(), FirstRain.Opening);
        await week.PlanAndPublish();
        return week;
    }

    /// <summary>The number of the first piece.</summary>
    public static async Task<int> PaintOf(StoreWeek week) =>
        (int)(await week.Lead.Get($"{week.Address}/nights/monday/sheet")).Json["pieces"]!.AsArray()
            .Single(piece => (string?)piece!["task"] == "wall.paint")!["number"]!;

    /// <summary>Keeps the person's night with its acts, and opens it again without a network.</summary>
    public static async Task OpenTonightOffline(this NightPhone phone)
    {
        await phone.KeepTonight();
        await phone.SetOffline(true);
        await phone.OpenTonight();
    }

    /// <summary>Follows the act at the bottom of the page, answers every gate or check alike, and signs.</summary>
    public static async Task Act(this NightPhone phone, string act, string sign, string answer = "Good")
    {
        await phone.Page.Leave(() => phone.Page.Locator(".bar-acts")
            .GetByRole(AriaRole.Link, new() { Name = act, Exact = true }).ClickAsync());
        var button = phone.Page.GetByRole(AriaRole.Button, new() { Name = sign });
        await Expect(button).ToBeVisibleAsync();
        foreach (var choice in await phone.Page.GetByRole(AriaRole.Radio, new() { Name = answer, Exact = true }).AllAsync())
            await choice.CheckAsync();
        await phone.Page.Leave(() => button.ClickAsync());
        await Expect(phone.Page).ToHaveURLAsync(new Regex("/sheet"));
    }

    /// <summary>Waits until the piece comes now, and its first act is this.</summary>
    public static async Task Offers(this NightPhone phone, string piece, string act)
    {
        await Expect(phone.Page.Locator("h1")).ToHaveTextAsync(piece);
        await Expect(phone.Page.Locator(".bar-acts .do:visible")).ToHaveTextAsync(act);
    }
}
