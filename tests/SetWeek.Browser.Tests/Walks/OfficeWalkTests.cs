using SetWeek.Browser.Tests.Pages;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Browser.Tests.Walks;

/// <summary>The states of head office's pages that the demo's chain is not in.</summary>
[Collection(SiteCollection.Name)]
public sealed class OfficeWalkTests(Site site)
{
    [BrowserFact]
    public async Task A_direction_is_brought_in_again_compared_and_offered_to_a_week()
    {
        var week = await StoreWeek.Small(site);
        await using var head = await site.SignedIn(week.Chain, "head", Role.HeadOffice);
        await head.Opens("/directions/first-rain", "Bring in a new version");
        await Revise(head, "{}", 2, "Nothing has been kept yet.");
        await Revise(head, FirstRain.WithBanner, 2, "Changed since version 1");
        await Revise(head, FirstRain.WithBanner.Replace("Mask the edges.", "Mask the edges twice.", StringComparison.Ordinal), 3,
            "Compare with version");
        await head.Opens("/directions/first-rain?since=1", "Changed since version 1");
        await head.Opens("/directions/first-rain?display=wall", "Changed since version 2");
        await head.Opens("/directions", "version 3");
        head.ComplainsOnlyOf(400);
        await using var lead = await week.SignedIn("lena", Role.Lead);
        await lead.Opens($"{week.Address}/facts", "A newer direction");
        lead.ComplainsOnlyOf();
    }

    [BrowserFact]
    public async Task A_kit_is_late_for_every_store_while_its_plans_are_looked_for_and_when_it_is_cancelled()
    {
        var week = await StoreWeek.Small(site);
        await using var head = await site.SignedIn(week.Chain, "head", Role.HeadOffice);
        await using (await site.HoldSearches())
        {
            var late = (await FirstRain.ExpectStatus(202, site.As(week.Chain, "head", Role.HeadOffice).Post("/kit-delays",
                """{"direction": "first-rain", "kit": "forms", "eta": "2027-03-10T12:00"}"""))).Location!;
            await head.Opens(late, "Look again");
            await head.Press("Cancel what is not done yet");
            await head.Opens(late, "late");
            await head.Opens("/kit-delays", "Cancelled.");
        }
        head.ComplainsOnlyOf();
    }

    [BrowserFact]
    public async Task A_secret_is_shown_a_memo_is_taken_back_and_a_store_is_refused()
    {
        var week = await StoreWeek.Small(site);
        await using var head = await site.SignedIn(week.Chain, "head", Role.HeadOffice);
        await head.Page.GotoAsync("/webhooks");
        await head.Page.GetByLabel("A short name").FillAsync("board");
        await head.Page.GetByLabel("The address that receives the events").FillAsync("http://127.0.0.1:9/"); // discards (RFC 863)
        await head.Press("Add it");
        await Inspection.Look(head.Page, "This secret is shown once.");

        var memo = (await FirstRain.ExpectStatus(201, site.As(week.Chain, "head", Role.HeadOffice).Post("/memos",
            """{"direction": "first-rain", "text": "The second lorry brings spare skirting."}"""))).Json["id"];
        await FirstRain.ExpectStatus(204, week.Lead.Post($"{week.Address}/memos/{memo}/read", ""));
        await head.Page.GotoAsync($"/memos/{memo}");
        await head.Press("Take this memo back");
        await head.Opens($"/memos/{memo}", "The second lorry brings spare skirting.");
        await using var crew = await week.SignedIn("p1");
        await crew.Opens($"{week.Address}/memos", "Memos");
        crew.ComplainsOnlyOf();

        await head.Page.GotoAsync("/new-store");
        foreach (var (field, value) in new[] { ("name", "Mill Lane"), ("id", "mill-lane"), ("timeZone", "Europe/Atlantis") })
            await head.Page.Locator($"form [name={field}]").First.FillAsync(value);
        await head.Press("Open this store");
        await Inspection.Look(head.Page, "Nothing has been kept yet.");
        head.ComplainsOnlyOf(400);
    }

    [BrowserFact]
    public async Task A_sign_in_link_that_was_used_says_so()
    {
        var link = site.SignInLink(Site.NewChain(), "lena", Role.Lead, "harbour-street");
        await using var visit = await site.Open();
        await visit.Page.GotoAsync(link);
        await visit.Press("Sign in");
        await visit.Opens(link, "The sign-in link has been used already.");
        visit.ComplainsOnlyOf(403);
    }

    private static async Task Revise(Visit head, string direction, int version, string sentence)
    {
        await head.Page.GetByLabel("Or its text").FillAsync(direction);
        await head.Press($"Issue it as version {version}");
        await Inspection.Look(head.Page, sentence);
    }
}
