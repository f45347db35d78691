using System.Diagnostics;
using static Microsoft.Playwright.Assertions;

namespace SetWeek.Browser.Tests.Offline;

/// <summary>A photograph on a line that carries it, but slowly.</summary>
[Collection(SiteCollection.Name)]
public sealed class SlowLineTests(Site site)
{
    /// <summary>The line carries the photograph in 25 s. Another report may take 20 s (answerLimit in times.js).</summary>
    private const int PhotoBytes = 2_000_000, BytesPerSecond = 80_000, AnswerSeconds = 20;

    [BrowserFact]
    public async Task A_photograph_that_takes_longer_than_other_reports_may_arrives_once()
    {
        var week = await StoreWeek.Small(site);
        await using var phone = await NightPhone.SignedIn(site, week);
        await phone.Page.GotoAsync(phone.AddressOf("snags/new"));
        await phone.Page.FillInSnag(PhotoBytes);
        var posted = 0;
        phone.Page.Request += (_, request) =>
        {
            if (request.Method == "POST" && request.Url.EndsWith("/snags", StringComparison.Ordinal)) posted++;
        };
        await SlowDown(phone);
        var sending = Stopwatch.StartNew();
        await phone.Tap("Keep the snag");
        await Expect(phone.Waiting).ToHaveTextAsync(["Keep the snag"]);
        await phone.UntilNothingWaits();
        Assert.True(sending.Elapsed.TotalSeconds > AnswerSeconds, $"The line is not slow: {sending.Elapsed}.");
        Assert.Equal(1, posted);
        var snag = Assert.Single((await week.Lead.Get($"{week.Address}/snags")).Json["snags"]!.AsArray())!;
        var photo = (string)Assert.Single(snag["photos"]!.AsArray())!;
        Assert.Equal(200, (await week.Lead.Get($"{week.Address}/photos/{photo}")).Status);
    }

    /// <summary>Limits what the page sends, as Chromium does for its developers.</summary>
    private static async Task SlowDown(NightPhone phone)
    {
        var devtools = await phone.Visit.Context.NewCDPSessionAsync(phone.Page);
        await devtools.SendAsync("Network.enable");
        await devtools.SendAsync("Network.emulateNetworkConditions", new Dictionary<string, object>
        {
            ["offline"] = false, ["latency"] = 0, ["downloadThroughput"] = -1, ["uploadThroughput"] = BytesPerSecond,
        });
    }
}
