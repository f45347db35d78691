using System.Text.RegularExpressions;
using System.Xml.Linq;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Service.Tests.Access;

/// <summary>A store's shared phone: enrolled by the lead, then used by people with a PIN of their own in an open night.</summary>
[Collection(ServiceCollection.Name)]
public sealed class PhoneTests(RunningService service)
{
    private const string Phones = "/stores/harbour-street/phones", InTheNight = "2027-03-08T21:00";

    [Fact]
    public async Task A_person_chooses_a_PIN_with_the_leads_permission_and_signs_in_as_crew_of_the_store()
    {
        var (chain, lead, phone) = await Enrolled();
        Assert.Equal("pin-not-allowed", (await Choose(phone, "p1", "4821")).Code);
        await Allow(lead, "p1");
        Assert.Equal(204, (await Choose(phone, "p1", "4821")).Status);
        Assert.Equal("pin-not-allowed", (await Choose(phone, "p1", "9999")).Code); // once
        Assert.Equal(401, (await phone.Api.Get("/session")).Status);

        Assert.Equal(204, (await SignIn(phone, "p1", "4821")).Status);
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
        var (_, lead, phone) = await Enrolled();
        await FirstRain.ExpectStatus(204, lead.Post($"{FirstRain.Address}/crew/p3/absent",
            """{"night": "monday", "why": "Ill."}"""));
        await Allow(lead, "p2");
        await Choose(phone, "p2", "482100");
        var view = await phone.Api.Get("/phone");
        Assert.Equal(("harbour-street", "monday"), ((string?)view.Json["store"], (string?)view.Json["night"]));
        Assert.Equal([("p1", "Asha Rowan", false), ("p2", "Ben Marsh", true)], view.Json["people"]!.AsArray()
            .Select(person => ((string)person!["id"]!, (string)person["name"]!, (bool)person["hasPin"]!)));
        var page = (await phone.Api.Get("/phone", ("Accept", "text/html"))).Text;
        Assert.Contains("Go on as Ben Marsh", page);
        foreach (var secret in new[] { "Cleo", "Ill", "1500", "ratePerHour", "482100" }) Assert.DoesNotContain(secret, WithoutTokens(view.Text + page));
    }

    [Fact]
    public async Task A_wrong_code_is_shown_again_and_a_wrong_PIN_is_not()
    {
        var (chain, lead, phone) = await Enrolled();
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
        var (chain, lead, phone) = await Enrolled();
        await Allow(lead, "p1");
        await Choose(phone, "p1", "4821");
        chain.Clock.MoveTo(time);
        var answer = await SignIn(phone, "p1", "4821");
        Assert.Equal(isOpen ? 204 : 403, answer.Status);
        if (!isOpen) Assert.Equal("no-open-night", answer.Code);
        Assert.Equal(isOpen ? 3 : 0, (await phone.Api.Get("/phone")).Json["people"]!.AsArray().Count);
    }

    [Fact]
    public async Task Five_wrong_tries_close_a_name_for_ten_minutes_and_no_other()
    {
        var (chain, lead, phone) = await Enrolled();
        foreach (var person in new[] { "p1", "p2" })
        {
            await Allow(lead, person);
            await Choose(phone, person, "4821");
        }
        for (var attempt = 0; attempt < 4; attempt++) Assert.Equal("wrong-pin", (await SignIn(phone, "p1", "0000")).Code);
        Assert.Equal(204, (await SignIn(phone, "p1", "4821")).Status); // a right one begins the count again
        await SignOut(phone);
        for (var attempt = 0; attempt < 5; attempt++) Assert.Equal("wrong-pin", (await SignIn(phone, "p1", "0000")).Code);
        Assert.Equal("name-closed", (await SignIn(phone, "p1", "4821")).Code);
        Assert.Equal(204, (await SignIn(phone, "p2", "4821")).Status);
        await SignOut(phone);
        await Execute(chain, "update setweek.pin set closed_until = closed_until - interval '9 minutes' where tenant_id = $1");
        Assert.Equal("name-closed", (await SignIn(phone, "p1", "4821")).Code);
        await Execute(chain, "update setweek.pin set closed_until = closed_until - interval '1 minute' where tenant_id = $1");
        Assert.Equal(204, (await SignIn(phone, "p1", "4821")).Status);
    }

    [Fact]
    public async Task Tries_at_once_are_counted_too()
    {
        var (_, lead, phone) = await Enrolled();
        await Allow(lead, "p1");
        await Choose(phone, "p1", "4821");
        var answers = await Task.WhenAll(Enumerable.Range(0, 12).Select(n => SignIn(phone, "p1", $"{1000 + n}")));
        Assert.Equal(5, answers.Count(answer => answer.Code == "wrong-pin"));
        Assert.Equal(7, answers.Count(answer => answer.Code == "name-closed"));
    }

    [Fact]
    public async Task A_code_enrols_one_phone_and_expires()
    {
        var (chain, lead, _) = await Enrolled();
        var (first, second) = (await chain.Phone(), await chain.Phone());
        var code = await Code(lead);
        Assert.Equal(204, (await Enrol(first, code.Replace("-", " ").ToLowerInvariant())).Status); // as somebody types it
        Assert.Equal("no-code", (await Enrol(second, code)).Code);
        code = await Code(lead);
        await Execute(chain, "update setweek.phone_code set until = now() - interval '1 second' where tenant_id = $1");
        Assert.Equal("no-code", (await Enrol(second, code)).Code);
        Assert.Equal("no-code", (await Enrol(second, "AAAA-AAAA")).Code);
        Assert.Null((string?)(await second.Api.Get("/phone")).Json["store"]);
    }

    [Fact]
    public async Task The_QR_code_is_an_SVG_and_its_address_fills_in_the_code()
    {
        var (chain, lead, _) = await Enrolled();
        var made = (await FirstRain.ExpectStatus(201, lead.Post(Phones, """{"name": "Phone 2"}"""))).Json;
        Assert.Equal("svg", XDocument.Parse((string)made["qr"]!).Root!.Name.LocalName);
        var address = new Uri((string)made["address"]!);
        var page = await chain.Browser().Api.Get(address.PathAndQuery, ("Accept", "text/html"));
        Assert.Contains($"value=\"{((string)made["code"]!).Replace("-", "")}\"", page.Text);
    }

    [Fact]
    public async Task A_removed_phone_is_signed_out_at_once_and_enrolled_no_more()
    {
        var (_, lead, phone) = await Enrolled();
        await Allow(lead, "p1");
        await Choose(phone, "p1", "4821");
        await SignIn(phone, "p1", "4821");
        var listed = Assert.Single((await lead.Get(Phones)).Json["phones"]!.AsArray())!;
        Assert.Equal(("Phone 1", "lena", 1L), ((string)listed["name"]!, (string)listed["enrolledBy"]!, (long)listed["signedIn"]!));
        await FirstRain.ExpectStatus(204, lead.Send(HttpMethod.Delete, $"{Phones}/{listed["id"]}", (string?)null));
        Assert.Equal(401, (await phone.Api.Get("/session")).Status);
        Assert.Equal("no-phone", (await SignIn(phone, "p1", "4821")).Code);
        Assert.Empty((await lead.Get(Phones)).Json["phones"]!.AsArray());
    }

    [Fact]
    public async Task The_lead_of_another_store_or_chain_reaches_neither_phone_nor_PIN()
    {
        var (chain, lead, phone) = await Enrolled();
        var id = (string)(await lead.Get(Phones)).Json["phones"]![0]!["id"]!;
        var (neighbour, foreign) = (chain.LeadOf("mill-lane"), service.NewChain().LeadOf("harbour-street"));
        chain.Clock.MoveTo(InTheNight);
        Assert.Equal("other-store", (await neighbour.Send(HttpMethod.Delete, $"{Phones}/{id}", (string?)null)).Code);
        Assert.Equal("other-store", (await neighbour.Post("/stores/harbour-street/pin-permissions", """{"person": "p1"}""")).Code);
        await foreign.Send(HttpMethod.Delete, $"{Phones}/{id}", (string?)null);
        await foreign.Post("/stores/harbour-street/pin-permissions", """{"person": "p1"}""");
        Assert.Equal("pin-not-allowed", (await Choose(phone, "p1", "4821")).Code);
        Assert.Single((await lead.Get(Phones)).Json["phones"]!.AsArray());
    }

    [Fact]
    public async Task A_phone_without_its_form_token_and_a_PIN_of_another_form_change_nothing()
    {
        var (_, lead, phone) = await Enrolled();
        await Allow(lead, "p1");
        foreach (var pin in new[] { "123", "123456789", "12a4", "१२३४" })
            Assert.Equal(400, (await Choose(phone, "p1", pin)).Status);
        var token = phone.FormToken;
        phone.FormToken = null;
        Assert.Equal("no-form-token", (await Choose(phone, "p1", "4821")).Code);
        phone.FormToken = token;
        Assert.Equal(204, (await Choose(phone, "p1", "4821")).Status);
    }

    /// <summary>Another site can fill in a form and send it from this browser. It is not shown again with our token.</summary>
    [Theory]
    [InlineData("/phone/pin", "person=p1&pin=48")]
    [InlineData("/phone/session", "person=p1&pin=48")]
    [InlineData("/phone/enrolment", "code=")]
    public async Task A_form_of_another_site_is_not_shown_again_whatever_it_says(string address, string fields)
    {
        var (_, lead, phone) = await Enrolled();
        await Allow(lead, "p1");
        phone.FormToken = null;
        var answer = await phone.PostForm(address, [KeyValuePair.Create(":from", "/phone"),
            .. fields.Split('&').Select(field => KeyValuePair.Create(field.Split('=')[0], field.Split('=')[1]))]);
        Assert.Equal((403, "text/html"), (answer.Status, answer.ContentType));
        Assert.Contains("The page was opened in an earlier session", answer.Text);
        Assert.DoesNotContain("name=\"pin\"", answer.Text);
        Assert.DoesNotContain("name=\"code\"", answer.Text);
        Assert.DoesNotContain(Service.Access.Sessions.FormToken.Field, answer.Text);
    }

    [Fact]
    public async Task The_phones_cookie_lasts_and_is_out_of_reach_of_scripts()
    {
        var (chain, lead, _) = await Enrolled();
        var phone = await chain.Phone();
        await Enrol(phone, await Code(lead));
        Assert.Matches($"^{Service.Access.Sessions.Phones.PlainName}=[0-9a-f]{{64}}; max-age=31536000; path=/; samesite=lax; httponly$",
            Assert.Single(phone.LastCookies));
    }

    private async Task<(Chain Chain, ApiClient Lead, Browser Phone)> Enrolled()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        chain.Clock.MoveTo(InTheNight);
        var phone = await chain.Phone();
        Assert.Equal(204, (await Enrol(phone, await Code(week.Lead))).Status);
        return (chain, week.Lead, phone);
    }

    /// <summary>The random text of form tokens may contain any figures.</summary>
    private static string WithoutTokens(string text) => Regex.Replace(text, "[A-Za-z0-9_-]{60,}", "");

    private static async Task<string> Code(ApiClient lead) =>
        (string)(await FirstRain.ExpectStatus(201, lead.Post(Phones, """{"name": "Phone 1"}"""))).Json["code"]!;

    private static Task<ApiResponse> Enrol(Browser phone, string code) =>
        phone.Api.Post("/phone/enrolment", $$"""{"code": "{{code}}"}""");

    private static Task<ApiResponse> Allow(ApiClient lead, string person) => FirstRain.ExpectStatus(204,
        lead.Post("/stores/harbour-street/pin-permissions", $$"""{"person": "{{person}}"}"""));

    private static Task<ApiResponse> Choose(Browser phone, string person, string pin) =>
        phone.Api.Post("/phone/pin", $$"""{"person": "{{person}}", "pin": "{{pin}}"}""");

    private static Task<ApiResponse> SignIn(Browser phone, string person, string pin) =>
        phone.Api.Post("/phone/session", $$"""{"person": "{{person}}", "pin": "{{pin}}"}""");

    /// <summary>The phone goes to the next person: it signs out, and has the token of nobody again.</summary>
    private static async Task SignOut(Browser phone)
    {
        await phone.ReadFormToken();
        Assert.Equal(204, (await phone.Api.Send(HttpMethod.Post, "/sign-out", (string?)null)).Status);
        await phone.ReadFormTokenOfPhone();
    }

    private async Task Execute(Chain chain, string sql)
    {
        await using var command = service.Host.Services.GetRequiredService<NpgsqlDataSource>().CreateCommand(sql);
        command.Parameters.AddWithValue(chain.Tenant);
        await command.ExecuteNonQueryAsync();
    }
}
