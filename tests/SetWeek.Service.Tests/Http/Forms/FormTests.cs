using System.Net;
using System.Net.Http.Headers;
using System.Text;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Http.Forms;

/// <summary>A browser without script does by a form what a program does by JSON: the same slice decides.</summary>
[Collection(ServiceCollection.Name)]
public sealed class FormTests(RunningService service)
{
    [Fact]
    public async Task An_accepted_form_changes_the_week_and_leads_to_a_page()
    {
        var (week, browser) = await Opened();
        using var answer = await Send(browser, $"{Address}/plans", "seconds:number=1&workers:number=1");
        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode); // RFC 9110, section 15.4.4
        var plan = await week.Settled(answer.Headers.Location!.ToString());
        Assert.Equal("ready", (string?)plan["state"]);
        using var published = await Send(browser, $"{Address}/plans/{plan["id"]}/publish",
            $":if-match=\"{plan["weekVersion"]}\"&:then={Address}/plan");
        Assert.Equal((HttpStatusCode.SeeOther, $"{Address}/plan"),
            (published.StatusCode, published.Headers.Location!.ToString()));
        Assert.Equal((string?)plan["id"], (string?)(await week.Lead.Get(Address)).Json["publishedPlan"]);
    }

    [Fact]
    public async Task A_refused_form_is_a_page_with_every_fault_and_changes_nothing()
    {
        var (week, browser) = await Opened();
        var before = (await week.Lead.Get(Address)).ETag;
        using var answer = await Send(browser, $"{Address}/plans", "seconds:number=ten&workers:number=0&:then=/");
        var page = WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync());
        Assert.Equal((400, "text/html"), ((int)answer.StatusCode, answer.Content.Headers.ContentType!.MediaType));
        Assert.Contains("/seconds: ", page);
        Assert.Contains("/workers: ", page);
        Assert.Equal(before, (await week.Lead.Get(Address)).ETag);
    }

    [Theory]
    [InlineData("seconds:number=1&seconds:number=2", "/seconds: ")]
    [InlineData("seconds:number=1&seconds:number=1", "/seconds: ")]
    [InlineData("seconds=1&seconds:number=1", "/seconds: ")]
    [InlineData("seconds:number=1&:then=/weeks", "/:then: ")]
    [InlineData("seconds:number=1&:key=a&:key=a", "/:key: ")]
    [InlineData("seconds:number=1&:from=/&:from=/weeks", "/:from: ")]
    public async Task A_field_that_is_given_twice_is_refused(string form, string place)
    {
        var (week, browser) = await Opened();
        using var answer = await Send(browser, $"{Address}/plans", $"{form}&:then=/");
        Assert.Equal(400, (int)answer.StatusCode);
        Assert.Contains(place, WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync()));
        Assert.Empty((await week.Lead.Get($"{Address}/plans")).Json["plans"]!.AsArray());
    }

    [Fact]
    public async Task The_address_of_a_form_names_a_method_that_forms_lack()
    {
        var (week, browser) = await Opened();
        var tag = (await week.Lead.Get(Address)).ETag;
        using var answer = await Send(browser, $"{Address}/launch?form-method=put",
            $"launch=2027-03-13T09:00&:if-match={tag}&:then={Address}/plan");
        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);
        Assert.Equal("2027-03-13T09:00", (string?)(await week.Lead.Get(Address)).Json["launch"]);
        using var patch = await Send(browser, $"{Address}/launch?form-method=patch", "launch=2027-03-13T09:00");
        Assert.Equal(405, (int)patch.StatusCode);
    }

    [Fact]
    public async Task The_key_of_a_form_makes_a_second_click_harmless()
    {
        var (week, browser) = await Opened();
        using var first = await Send(browser, $"{Address}/plans", "seconds:number=1&:key=one-click");
        using var second = await Send(browser, $"{Address}/plans", "seconds:number=1&:key=one-click");
        Assert.Equal(first.Headers.Location, second.Headers.Location);
        Assert.Single((await week.Lead.Get($"{Address}/plans")).Json["plans"]!.AsArray());
    }

    /// <summary>Each of these once ended in an error of ours.</summary>
    [Theory]
    [InlineData("application/x-www-form-urlencoded", "seconds:json=\"\\ud800\"", 400)] // half of a surrogate pair
    [InlineData("application/x-www-form-urlencoded", "seconds:json={\"\\udfff\":1}", 400)]
    [InlineData("application/x-www-form-urlencoded", "seconds:json={\"a\":1,\"a\":2}&seconds.b=1", 400)] // a name twice
    [InlineData("application/x-www-form-urlencoded", "seconds:json={\"a\":1,\"a\":2}&seconds.b.c=", 400)]
    [InlineData("application/x-www-form-urlencoded", ":from=/weeks/%2500/plan&seconds=ten", 400)]
    [InlineData("application/x-www-form-urlencoded; charset=utf-7", "seconds=ten", 415)]
    [InlineData("multipart/form-data; boundary=one", "--another\r\n\r\nx", 400)]
    public async Task A_form_that_is_none_is_refused(string contentType, string body, int status)
    {
        var (week, browser) = await Opened();
        var content = new StringContent(body);
        content.Headers.ContentType = MediaTypeHeaderValue.Parse(contentType);
        using var answer = await browser.PostAsync($"{Address}/plans", content);
        Assert.Equal(status, (int)answer.StatusCode);
        Assert.Empty((await week.Lead.Get($"{Address}/plans")).Json["plans"]!.AsArray());
    }

    [Fact]
    public async Task A_form_that_is_too_large_is_refused_before_it_is_read()
    {
        var (_, browser) = await Opened();
        using var answer = await Send(browser, $"{Address}/plans", "x=" + new string('x', FormMethods.MaxBytes));
        Assert.Equal(413, (int)answer.StatusCode);
    }

    [Theory]
    [InlineData("%00=%ff")]
    [InlineData("seconds:number=%00")]
    public async Task A_form_with_characters_that_are_none_is_a_bad_request(string form)
    {
        var (_, browser) = await Opened();
        using var answer = await browser.PostAsync(
            $"{Address}/plans", new StringContent(form, Encoding.UTF8, "application/x-www-form-urlencoded"));
        Assert.Equal(400, (int)answer.StatusCode);
    }

    private async Task<(FirstRain Week, HttpClient Browser)> Opened()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var browser = service.Host.Server.CreateClient();
        browser.DefaultRequestHeaders.Authorization =
            new AuthenticationHeaderValue("Bearer", chain.TokenOf("lena", Role.Lead, "harbour-street"));
        browser.DefaultRequestHeaders.TryAddWithoutValidation("Accept", "text/html,*/*;q=0.8");
        return (week, browser);
    }

    private static Task<HttpResponseMessage> Send(HttpClient browser, string address, string form) =>
        browser.PostAsync(address, new StringContent(
            string.Join('&', form.Split('&').Select(field => field.Split('=', 2)).Select(field =>
                $"{Uri.EscapeDataString(field[0])}={Uri.EscapeDataString(field[1])}")),
            Encoding.UTF8, "application/x-www-form-urlencoded"));
}
