using System.Net;
using System.Text.RegularExpressions;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Pages;

/// <summary>A store and its shared phones as pages.</summary>
[Collection(ServiceCollection.Name)]
public sealed class StorePagesTests(RunningService service)
{
    private const string Store = "/stores/harbour-street", Phones = $"{Store}/phones", InTheNight = "2027-03-08T21:00";

    [Fact]
    public async Task A_store_shows_its_zones_its_zone_of_time_and_its_weeks()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        using var lead = await chain.SignedIn("lena", Role.Lead, "harbour-street");
        var page = await Page(lead, Store);
        foreach (var words in new[] { "Harbour Street", "Europe/London", "Show window", "at most 2", "no plan is published",
            "Friday 12 March, 09:00", $"href=\"{Address}/plan\"", $"href=\"{Phones}\"", "for 1 kit" })
            Assert.Contains(words, page);
        await week.PlanAndPublish();
        Assert.Contains("a plan is published", await Page(lead, Store));

        foreach (var role in new[] { Role.HeadOffice, Role.Crew, Role.Region, Role.Engineer })
        {
            using var reader = await chain.SignedIn("reader", role);
            Assert.DoesNotContain(Phones, await Page(reader, Store));
        }
        Assert.Equal("other-store", (await chain.LeadOf("mill-lane").Get(Store)).Code);
        Assert.Equal(404, (await service.NewChain().LeadOf("harbour-street").Get(Store, ("Accept", "text/html"))).Status);
    }

    [Fact]
    public async Task A_lead_enrols_a_phone_lets_somebody_choose_a_PIN_and_removes_the_phone()
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        chain.Clock.MoveTo(InTheNight);
        using var lead = await chain.SignedIn("lena", Role.Lead, "harbour-street");
        lead.FormToken = null;
        var page = await Page(lead, Phones);
        Assert.Contains("No phone is enrolled.", page);
        var made = await lead.PressButton(page, "Make a code");
        Assert.Equal(200, made.Status);
        var shown = WebUtility.HtmlDecode(made.Text);
        Assert.Contains("<svg", shown);
        Assert.DoesNotContain("style=", shown); // the content security policy would stop it
        var code = Regex.Match(shown, "<p class=\"hour\">([0-9A-Z-]{9})</p>").Groups[1].Value;

        using var phone = await chain.Phone();
        Assert.Equal(204, (await phone.Api.Post("/phone/enrolment", $$"""{"code": "{{code}}"}""")).Status);
        page = await Page(lead, Phones);
        Assert.Contains("Nobody has signed in on it yet.", page);
        Assert.Contains("<bdi>Asha Rowan</bdi>,", page);
        Assert.Contains("has none", page);

        var allowed = await lead.PressButton(page, "Allow a PIN, now", ("person", "p1"));
        Assert.Equal(Phones, allowed.Location);
        Assert.Contains("may choose one until ", await Page(lead, Phones));
        Assert.Equal(204, (await phone.Api.Post("/phone/pin", """{"person": "p1", "pin": "4821"}""")).Status);
        Assert.Equal(204, (await phone.Api.Post("/phone/session", """{"person": "p1", "pin": "4821"}""")).Status);
        page = await Page(lead, Phones);
        Assert.Contains("Last sign-in ", page);
        Assert.Contains("One person is signed in now.", page);
        Assert.Contains("has a PIN", page);
        Assert.DoesNotContain("4821", Regex.Replace(page, "[A-Za-z0-9_-]{60,}", "")); // without the random form tokens
        Assert.NotNull((await lead.Api.Get(Phones)).Json["phones"]![0]!["lastSignIn"]);

        var removed = await lead.PressButton(page, "Remove Phone 1");
        Assert.Equal(Phones, removed.Location);
        Assert.Equal(401, (await phone.Api.Get("/session")).Status);
        Assert.Contains("No phone is enrolled.", await Page(lead, Phones));
    }

    [Fact]
    public async Task Nobody_but_the_lead_of_the_store_reads_its_phones()
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        foreach (var role in new[] { Role.HeadOffice, Role.Crew, Role.Region, Role.Engineer })
            Assert.Equal("other-role", (await chain.As("reader", role).Get(Phones)).Code);
        Assert.Equal("other-store", (await chain.LeadOf("mill-lane").Get(Phones)).Code);
        var foreign = (await service.NewChain().LeadOf("harbour-street").Get(Phones)).Json;
        Assert.Empty(foreign["people"]!.AsArray());
    }

    private static async Task<string> Page(Browser browser, string address)
    {
        var answer = await browser.Api.Get(address, ("Accept", "text/html"));
        Assert.Equal((200, "text/html"), (answer.Status, answer.ContentType));
        return WebUtility.HtmlDecode(answer.Text);
    }
}
