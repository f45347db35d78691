using System.Text.RegularExpressions;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Access.SharedPhone;

namespace SetWeek.Service.Tests.Access;

/// <summary>People sign in on a store's shared phone with a PIN of their own, in an open night.</summary>
[Collection(ServiceCollection.Name)]
public sealed class PinTests(RunningService service)
{
    [Fact]
    public async Task A_person_chooses_a_PIN_with_the_leads_permission_and_signs_in_as_crew_of_the_store()
    {
        var (chain, lead, phone) = await Enrolled(service);
        Assert.Equal("pin-not-allowed", (await Choose(phone, "p1", "4821")).Code);
        await Allow(lead, "p1");
        Assert.Equal(204, (await Choose(phone, "p1", "4821")).Status);
        Assert.Equal("pin-not-allowed", (await Choose(phone, "p1", "9999")).Code); // once
        Assert.Equal(401, (await phone.Api.Get("/session")).Status);

        Assert.Equal(204, (await SignInByPin(phone, "p1", "4821")).Status);
        var session = (await phone.Api.Get("/session")).Json;
        Assert.Equal((chain.Tenant, "p1", "crew", "harbour-street"), ((string?)session["tenant"], (string?)session["person"],
            (string?)session["role"], (string?)Assert.Single(session["stores"]!.AsArray())));
        await phone.ReadFormToken();
        var started = await phone.Api.Post($"{FirstRain.Address}/work/started",
            """{"id": "r1", "task": "wall.paint", "night": "monday", "at": "2027-03-08T20:55:00Z"}""");
        Assert.NotInRange(started.Status, 400, 403);
    }

    [Fact]
    public async Task The_names_are_those_of_the_open_night_without_age_pay_or_absence()
    {
        var (_, lead, phone) = await Enrolled(service);
        await FirstRain.ExpectStatus(204, lead.Post($"{FirstRain.Address}/crew/p3/absent",
            """{"night": "monday", "why": "Ill."}"""));
        await Allow(lead, "p2");
        await Choose(phone, "p2", "482100");
        var view = await phone.Api.Get("/phone");
        Assert.Equal(("harbour-street", "monday"), ((string?)view.Json["store"], (string?)view.Json["night"]));
        Assert.Equal([("p1", "Asha Rowan", false), ("p2", "Ben Marsh", true)], view.Json["people"]!.AsArray()
            .Select(person => ((string)person!["id"]!, (string)person["name"]!, (bool)person["hasPin"]!)));
        var page = (await phone.Api.Get("/phone", ("Accept", "text/html"))).Text;
        Assert.Contains("Go on as <bdi>Ben Marsh</bdi>", page);
        Assert.Contains("Harbour Street", page);
        foreach (var secret in new[] { "Cleo", "Ill", "1500", "ratePerHour", "482100" }) Assert.DoesNotContain(secret, WithoutTokens(view.Text + page));
    }

    [Fact]
    public async Task A_forgotten_PIN_is_replaced_on_the_page_once_the_lead_allows_it()
    {
        var (_, lead, phone) = await Enrolled(service);
        await Allow(lead, "p2");
        await Choose(phone, "p2", "4821");
        await Allow(lead, "p2");
        Assert.Contains("Set the PIN of <bdi>Ben Marsh</bdi>", await PageOf(phone));
        Assert.Equal(204, (await Choose(phone, "p2", "9999")).Status);
        Assert.Contains("Go on as <bdi>Ben Marsh</bdi>", await PageOf(phone));
        Assert.Equal(204, (await SignInByPin(phone, "p2", "9999")).Status);
    }

    [Fact]
    public async Task A_first_PIN_is_chosen_on_the_page_only_once_the_lead_allows_it()
    {
        var (chain, lead, phone) = await Enrolled(service);
        await Allow(lead, "p1");
        var page = await PageOf(phone);
        Assert.Contains("Set the PIN of <bdi>Asha Rowan</bdi>", page);
        Assert.DoesNotContain("of Ben Marsh", page);
        Assert.Contains("No PIN yet: <bdi>Ben Marsh</bdi> and <bdi>Cleo Strand</bdi>. Once the lead has allowed one,", page);

        // The permission may end before the form is sent. The page has the form no more and says what to do.
        phone.FormToken = null; // a form carries its own
        await Execute(service, chain, "update setweek.pin_permission set until = until - interval '10 minutes' where tenant_id = $1");
        var late = await phone.PressButton(page, "Set the PIN of Asha Rowan", ("pin", "4821"));
        Assert.Equal(403, late.Status);
        Assert.Contains("Ask the lead to allow it, then choose it within ten minutes.", late.Text);
        Assert.DoesNotContain("4821", WithoutTokens(late.Text));
        Assert.Contains("No PIN yet: <bdi>Asha Rowan</bdi>, <bdi>Ben Marsh</bdi> and <bdi>Cleo Strand</bdi>.",
            await PageOf(phone));
    }

    [Fact]
    public async Task A_wrong_code_is_shown_again_and_a_wrong_PIN_is_not()
    {
        var (chain, lead, phone) = await Enrolled(service);
        foreach (var person in new[] { "p1", "p2" })
        {
            await Allow(lead, person);
            await Choose(phone, person, "4821");
        }
        phone.FormToken = null; // a form carries its own
        var page = (await phone.Api.Get("/phone", ("Accept", "text/html"))).Text;
        var wrong = await phone.PressButton(page, "Go on as Ben Marsh", ("pin", "7306"));
        Assert.Equal((403, "text/html"), (wrong.Status, wrong.ContentType));
        Assert.Single(Regex.Matches(wrong.Text, "This is not the PIN of that name. Try again."));
        Assert.DoesNotContain("7306", WithoutTokens(wrong.Text));
        Assert.Contains("Type the PIN again.", wrong.Text);
        Assert.DoesNotContain("What you typed is still here", wrong.Text);
        Assert.Equal("p2", Assert.Single(PageForm.With(wrong.Text, "Go on as Ben Marsh").SentIn("person")));
        Assert.Contains("Give 4 to 8 figures.", (await phone.PressButton(wrong.Text, "Go on as Asha Rowan", ("pin", "48"))).Text);
        Assert.Equal(303, (await phone.PressButton(wrong.Text, "Go on as Ben Marsh", ("pin", "4821"))).Status);

        using var other = chain.Browser();
        page = (await other.Api.Get("/phone", ("Accept", "text/html"))).Text;
        var code = await other.PressButton(page, "Enrol this phone", ("code", "K7QM-4RXT"));
        Assert.Equal(403, code.Status);
        Assert.Equal("K7QM-4RXT", Assert.Single(PageForm.With(code.Text, "Enrol this phone").SentIn("code")));
    }

    [Theory]
    [InlineData("2027-03-08T18:59", false), InlineData("2027-03-08T19:00", true)] // opens at 20:00
    [InlineData("2027-03-09T00:59", true), InlineData("2027-03-09T01:00", false)] // closes at 00:00
    public async Task A_PIN_signs_in_from_an_hour_before_a_night_until_an_hour_after_it(string time, bool isOpen)
    {
        var (chain, lead, phone) = await Enrolled(service);
        await Allow(lead, "p1");
        await Choose(phone, "p1", "4821");
        chain.Clock.MoveTo(time);
        var answer = await SignInByPin(phone, "p1", "4821");
        Assert.Equal(isOpen ? 204 : 403, answer.Status);
        if (!isOpen) Assert.Equal("no-open-night", answer.Code);
        Assert.Equal(isOpen ? 3 : 0, (await phone.Api.Get("/phone")).Json["people"]!.AsArray().Count);
    }

    [Fact]
    public async Task Five_wrong_tries_close_a_name_for_ten_minutes_and_no_other()
    {
        var (chain, lead, phone) = await Enrolled(service);
        foreach (var person in new[] { "p1", "p2" })
        {
            await Allow(lead, person);
            await Choose(phone, person, "4821");
        }
        for (var attempt = 0; attempt < 4; attempt++) Assert.Equal("wrong-pin", (await SignInByPin(phone, "p1", "0000")).Code);
        Assert.Equal(204, (await SignInByPin(phone, "p1", "4821")).Status); // a right one begins the count again
        await SignOut(phone);
        for (var attempt = 0; attempt < 5; attempt++) Assert.Equal("wrong-pin", (await SignInByPin(phone, "p1", "0000")).Code);
        Assert.Equal("name-closed", (await SignInByPin(phone, "p1", "4821")).Code);
        Assert.Equal(204, (await SignInByPin(phone, "p2", "4821")).Status);
        await SignOut(phone);
        await Execute(service, chain, "update setweek.pin set closed_until = closed_until - interval '9 minutes' where tenant_id = $1");
        Assert.Equal("name-closed", (await SignInByPin(phone, "p1", "4821")).Code);
        await Execute(service, chain, "update setweek.pin set closed_until = closed_until - interval '1 minute' where tenant_id = $1");
        Assert.Equal(204, (await SignInByPin(phone, "p1", "4821")).Status);
    }

    [Fact]
    public async Task Tries_at_once_are_counted_too()
    {
        var (_, lead, phone) = await Enrolled(service);
        await Allow(lead, "p1");
        await Choose(phone, "p1", "4821");
        var answers = await Task.WhenAll(Enumerable.Range(0, 12).Select(n => SignInByPin(phone, "p1", $"{1000 + n}")));
        Assert.Equal(5, answers.Count(answer => answer.Code == "wrong-pin"));
        Assert.Equal(7, answers.Count(answer => answer.Code == "name-closed"));
    }

    [Fact]
    public async Task A_phone_without_its_form_token_and_a_PIN_of_another_form_change_nothing()
    {
        var (_, lead, phone) = await Enrolled(service);
        await Allow(lead, "p1");
        foreach (var pin in new[] { "123", "123456789", "12a4", "१२३४" })
            Assert.Equal(400, (await Choose(phone, "p1", pin)).Status);
        var token = phone.FormToken;
        phone.FormToken = null;
        Assert.Equal("no-form-token", (await Choose(phone, "p1", "4821")).Code);
        phone.FormToken = token;
        Assert.Equal(204, (await Choose(phone, "p1", "4821")).Status);
    }

    private static async Task<string> PageOf(Browser phone) => (await phone.Api.Get("/phone", ("Accept", "text/html"))).Text;

    /// <summary>The random text of form tokens may contain any figures.</summary>
    private static string WithoutTokens(string text) => Regex.Replace(text, "[A-Za-z0-9_-]{60,}", "");
}
