using System.Security.Cryptography;
using Microsoft.IdentityModel.Tokens;
using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;

namespace SetWeek.Service.Tests.Access;

[Collection(ServiceCollection.Name)]
public sealed class SignInLinkTests(RunningService service)
{
    [Fact]
    public async Task A_link_opens_a_session_for_the_person_role_and_stores_in_it()
    {
        var chain = service.NewChain();
        var browser = await chain.SignedIn("lena", Role.Lead, "harbour-street", "mill-lane");
        var session = (await browser.Api.Get("/session")).Json;
        Assert.Equal((chain.Tenant, "lena", "lead"),
            ((string?)session["tenant"], (string?)session["person"], (string?)session["role"]));
        Assert.Equal(["harbour-street", "mill-lane"], session["stores"]!.AsArray().Select(store => (string?)store));
        var start = await browser.Api.Get("/", ("Accept", "text/html"));
        Assert.Contains($"Signed in: lena, lead, of {chain.Tenant}.", start.Text);
    }

    /// <summary>Mail programs and chats open links to preview them.</summary>
    [Fact]
    public async Task Looking_at_a_link_does_not_spend_it_and_pressing_its_button_does()
    {
        var chain = service.NewChain();
        var (browser, other, link) = (chain.Browser(), chain.Browser(), chain.SignInLink("lena", Role.Lead, []));
        for (var look = 0; look < 3; look++) Assert.Equal(200, (await other.Api.Get(link)).Status);
        Assert.Equal(401, (await other.Api.Get("/session")).Status);
        Assert.Equal(204, (await browser.Open(link)).Status);
        await ExpectRefusal("link-spent", other, link);
        Assert.Equal(401, (await other.Api.Get("/session")).Status);
    }

    [Fact]
    public async Task Of_several_who_press_the_button_at_once_one_is_signed_in()
    {
        var chain = service.NewChain();
        var link = chain.SignInLink("lena", Role.Lead, []);
        var browsers = Enumerable.Range(0, 6).Select(_ => chain.Browser()).ToList();
        var pages = new List<string>();
        foreach (var browser in browsers) pages.Add((await browser.Api.Get(link)).Text);
        var answers = await Task.WhenAll(browsers.Zip(pages, (browser, page) => browser.Press(link, page)));
        Assert.Equal([204, 403, 403, 403, 403, 403], answers.Select(answer => answer.Status).Order());
    }

    [Fact]
    public async Task Forged_expired_and_foreign_links_open_nothing()
    {
        var chain = service.NewChain();
        var browser = chain.Browser();
        var forged = chain.SignInLink("lena", Role.Lead, [], signedBy: new SymmetricSecurityKey(RandomNumberGenerator.GetBytes(64)));
        await ExpectRefusal("link-invalid", browser, forged);
        await ExpectRefusal("link-invalid", browser, "/sign-in/nonsense");
        // A bearer token is signed by the same key, for another audience (RFC 7519, section 4.1.3).
        await ExpectRefusal("link-invalid", browser, $"/sign-in/{chain.TokenOf("lena", Role.Lead)}");
        await ExpectRefusal("link-expired", browser, chain.SignInLink("lena", Role.Lead, [], age: TimeSpan.FromMinutes(11)));
        var link = chain.SignInLink("lena", Role.Lead, []);
        Assert.Equal(401, (await chain.WithToken(link["/sign-in/".Length..]).Get("/session")).Status);
        Assert.Equal(204, (await browser.Open(link)).Status); // the refusals above have spent nothing
    }

    /// <summary>Another site could otherwise sign a browser in as somebody else.</summary>
    [Fact]
    public async Task The_button_needs_the_token_of_its_page()
    {
        var chain = service.NewChain();
        var (browser, link) = (chain.Browser(), chain.SignInLink("eve", Role.Lead, []));
        Assert.Equal((403, "no-form-token"), StatusAndCode(await browser.Api.Send(HttpMethod.Post, link, (string?)null)));
        var elsewhere = (await chain.Browser().Api.Get(link)).Text; // the page of another browser
        Assert.Equal((403, "no-form-token"), StatusAndCode(await browser.Press(link, elsewhere)));
        Assert.Equal(204, (await browser.Open(link)).Status);
    }

    [Fact]
    public async Task A_browser_is_sent_to_the_start_page()
    {
        var chain = service.NewChain();
        var (browser, link) = (chain.Browser(), chain.SignInLink("lena", Role.Lead, []));
        var answer = await browser.Press(link, (await browser.Api.Get(link)).Text, "text/html");
        Assert.Equal((303, "/"), (answer.Status, answer.Location));
    }

    [Theory]
    [InlineData("http://127.0.0.1:5080", null, true, false)]
    [InlineData("http://localhost:5080;http://[::1]:5080", null, true, false)]
    [InlineData("https://127.0.0.1:5443", null, true, true)]
    [InlineData("http://0.0.0.0:5080", null, false, true)]
    [InlineData("http://*:5080", null, false, true)]
    [InlineData("http://127.0.0.1:5080;http://10.0.0.5:5080", null, false, true)]
    [InlineData("http://127.0.0.1:5080", "https://setweek.example", false, true)]
    public void Links_are_for_loopback_and_plain_cookies_too(string urls, string? publicUrl, bool isLoopback, bool isSecure)
    {
        var address = new BrowserAddress(urls, publicUrl);
        Assert.Equal((isLoopback, isSecure), (address.IsLoopback, address.IsSecure));
    }

    private static async Task ExpectRefusal(string code, Browser browser, string link) =>
        Assert.Equal((403, code), StatusAndCode(await browser.Api.Get(link)));

    private static (int, string?) StatusAndCode(ApiResponse answer) => (answer.Status, answer.Code);
}
