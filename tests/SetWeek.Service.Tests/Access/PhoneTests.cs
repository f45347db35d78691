using System.Xml.Linq;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Access.SharedPhone;

namespace SetWeek.Service.Tests.Access;

/// <summary>A store's shared phone: enrolled by the lead of that store, and removed.</summary>
[Collection(ServiceCollection.Name)]
public sealed class PhoneTests(RunningService service)
{
    [Fact]
    public async Task A_code_enrols_one_phone_and_expires()
    {
        var (chain, lead, _) = await Enrolled(service);
        var (first, second) = (await chain.Phone(), await chain.Phone());
        var code = await Code(lead);
        Assert.Equal(204, (await Enrol(first, code.Replace("-", " ").ToLowerInvariant())).Status); // as somebody types it
        Assert.Equal("no-code", (await Enrol(second, code)).Code);
        code = await Code(lead);
        await Execute(service, chain, "update setweek.phone_code set until = now() - interval '1 second' where tenant_id = $1");
        Assert.Equal("no-code", (await Enrol(second, code)).Code);
        Assert.Equal("no-code", (await Enrol(second, "AAAA-AAAA")).Code);
        Assert.Null((string?)(await second.Api.Get("/phone")).Json["store"]);
    }

    [Fact]
    public async Task The_QR_code_is_an_SVG_and_its_address_fills_in_the_code()
    {
        var (chain, lead, _) = await Enrolled(service);
        var made = (await FirstRain.ExpectStatus(201, lead.Post(Phones, """{"name": "Phone 2"}"""))).Json;
        Assert.Equal("svg", XDocument.Parse((string)made["qr"]!).Root!.Name.LocalName);
        var address = new Uri((string)made["address"]!);
        var page = await chain.Browser().Api.Get(address.PathAndQuery, ("Accept", "text/html"));
        Assert.Contains($"value=\"{((string)made["code"]!).Replace("-", "")}\"", page.Text);
    }

    [Fact]
    public async Task A_removed_phone_is_signed_out_at_once_and_enrolled_no_more()
    {
        var (_, lead, phone) = await Enrolled(service);
        await Allow(lead, "p1");
        await Choose(phone, "p1", "4821");
        await SignInByPin(phone, "p1", "4821");
        var listed = Assert.Single((await lead.Get(Phones)).Json["phones"]!.AsArray())!;
        Assert.Equal(("Phone 1", "lena", 1L), ((string)listed["name"]!, (string)listed["enrolledBy"]!, (long)listed["signedIn"]!));
        await FirstRain.ExpectStatus(204, lead.Send(HttpMethod.Delete, $"{Phones}/{listed["id"]}", (string?)null));
        Assert.Equal(401, (await phone.Api.Get("/session")).Status);
        Assert.Equal("no-phone", (await SignInByPin(phone, "p1", "4821")).Code);
        Assert.Empty((await lead.Get(Phones)).Json["phones"]!.AsArray());
    }

    [Fact]
    public async Task The_lead_of_another_store_or_chain_reaches_neither_phone_nor_PIN()
    {
        var (chain, lead, phone) = await Enrolled(service);
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

    /// <summary>Another site can fill in a form and send it from this browser. It is not shown again with our token.</summary>
    [Theory]
    [InlineData("/phone/pin", "person=p1&pin=48")]
    [InlineData("/phone/session", "person=p1&pin=48")]
    [InlineData("/phone/enrolment", "code=")]
    public async Task A_form_of_another_site_is_not_shown_again_whatever_it_says(string address, string fields)
    {
        var (_, lead, phone) = await Enrolled(service);
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
        var (chain, lead, _) = await Enrolled(service);
        var phone = await chain.Phone();
        await Enrol(phone, await Code(lead));
        Assert.Matches($"^{Service.Access.Sessions.Phones.PlainName}=[0-9a-f]{{64}}; max-age=31536000; path=/; samesite=lax; httponly$",
            Assert.Single(phone.LastCookies));
    }
}
