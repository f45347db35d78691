using Alba;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Service.Tests.Access;

/// <summary>Browser sessions: their cookies, their form tokens, and how they end.</summary>
[Collection(ServiceCollection.Name)]
public sealed class SessionTests(RunningService service)
{
    /// <summary>RFC 6265bis, sections 4.1.2 and 4.1.3.2: the prefix __Host- with Secure, Path=/ and no Domain.</summary>
    [Fact]
    public async Task Behind_TLS_each_cookie_is_secure_and_bound_to_its_host()
    {
        await using var node = await Start(service.Settings with { PublicUrl = "https://setweek.example" });
        // Links open nothing there, so that the session is opened by hand on a node on loopback.
        var chain = service.NewChain();
        Assert.Equal("link-not-here", (await new Browser(node, tls: true).Api.Get(chain.SignInLink("lena", Role.Lead, []))).Code);
        var here = await chain.SignedIn("lena", Role.Lead);
        var there = new Browser(node, tls: true);
        there.SetCookie(SessionCookie.SecureName, here.CookieOf(SessionCookie.PlainName)!);
        await there.ReadFormToken();
        AssertFlags(Assert.Single(there.LastCookies), FormToken.SecureName, "; secure");
        Assert.Equal(204, (await there.Api.Send(HttpMethod.Post, "/sign-out", (string?)null)).Status);
        AssertFlags(Assert.Single(there.LastCookies), SessionCookie.SecureName, "; secure");
        Assert.Equal(401, (await here.Api.Get("/session")).Status); // closed on every node
    }

    [Fact]
    public async Task On_loopback_the_cookies_need_no_TLS_and_are_out_of_reach_of_scripts()
    {
        var chain = service.NewChain();
        var (browser, link) = (chain.Browser(), chain.SignInLink("lena", Role.Lead, []));
        var page = (await browser.Api.Get(link)).Text;
        AssertFlags(Assert.Single(browser.LastCookies), FormToken.PlainName, "");
        await browser.Press(link, page);
        AssertFlags(Assert.Single(browser.LastCookies), SessionCookie.PlainName, "");
    }

    [Fact]
    public async Task A_change_by_cookie_needs_the_form_token_of_its_session_and_changes_nothing_without()
    {
        var chain = service.NewChain();
        var (office, other) = (await chain.SignedIn("head", Role.HeadOffice), await chain.SignedIn("head", Role.HeadOffice));
        var own = office.FormToken;
        foreach (var token in new[] { null, "nonsense", other.FormToken })
        {
            office.FormToken = token;
            var refused = await office.Api.Post("/stores", Samples.Store());
            Assert.Equal((403, "no-form-token"), (refused.Status, refused.Code));
        }
        Assert.Equal("", await service.EventsOf(chain));
        office.FormToken = own;
        Assert.Equal(201, (await office.Api.Post("/stores", Samples.Store())).Status);
        // The same change with a bearer token needs no form token.
        Assert.Equal(201, (await chain.HeadOffice.Post("/stores", Samples.Store("mill-lane"))).Status);
    }

    [Fact]
    public async Task A_form_token_ends_with_its_session()
    {
        var chain = service.NewChain();
        var browser = await chain.SignedIn("head", Role.HeadOffice);
        await browser.Open(chain.SignInLink("head", Role.HeadOffice, []));
        Assert.Equal("no-form-token", (await browser.Api.Post("/stores", Samples.Store())).Code);
    }

    [Fact]
    public async Task A_revoked_session_is_over_at_once()
    {
        var chain = service.NewChain();
        var browser = await chain.SignedIn("lena", Role.Lead);
        Assert.Equal(1, await Execute(chain, "delete from setweek.browser_session where tenant_id = $1"));
        Assert.Equal(401, (await browser.Api.Get("/session")).Status);
        Assert.Equal(401, (await browser.Api.Post("/weeks", "{}")).Status);
        var page = await browser.Api.Get("/stores/harbour-street", ("Accept", "text/html"));
        Assert.Equal((401, "text/html"), (page.Status, page.ContentType));
        Assert.Contains("Open your sign-in link", page.Text);
        Assert.Contains("href=\"/phone\"", page.Text);
    }

    [Fact]
    public async Task A_session_that_has_run_out_is_refused()
    {
        var chain = service.NewChain();
        var browser = await chain.SignedIn("lena", Role.Lead);
        await Execute(chain, "update setweek.browser_session set until = now() - interval '1 second' where tenant_id = $1");
        Assert.Equal(401, (await browser.Api.Get("/session")).Status);
    }

    [Fact]
    public async Task Signing_out_closes_the_session_also_for_a_copy_of_the_cookie()
    {
        var chain = service.NewChain();
        var (browser, copy) = (await chain.SignedIn("lena", Role.Lead), chain.Browser());
        copy.SetCookie(SessionCookie.PlainName, browser.CookieOf(SessionCookie.PlainName)!);
        Assert.Equal(200, (await copy.Api.Get("/session")).Status);
        Assert.Equal(204, (await browser.Api.Send(HttpMethod.Post, "/sign-out", (string?)null)).Status);
        Assert.Null(browser.CookieOf(SessionCookie.PlainName));
        Assert.Equal(401, (await copy.Api.Get("/session")).Status);
    }

    /// <summary>A phone page has no such button: a phone without a connection would lose the pages of its night by a tap.</summary>
    [Fact]
    public async Task Every_page_at_a_desk_has_the_button_that_signs_out_also_that_of_a_refusal()
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        foreach (var (address, status) in new[] { ("/", 200), ($"{FirstRain.Address}/facts", 200), ("/weeks/none/plan", 404) })
        {
            using var lead = await chain.SignedIn("lena", Role.Lead);
            var page = await lead.Api.Get(address, ("Accept", "text/html"));
            Assert.Equal(status, page.Status);
            lead.FormToken = null; // the form carries its own
            var left = await lead.PressButton(page.Text, "Sign out");
            Assert.Equal((303, "/"), (left.Status, left.Location));
            Assert.Equal(401, (await lead.Api.Get("/session")).Status);
        }
        using var other = await chain.SignedIn("lena", Role.Lead);
        var old = (await other.Api.Get("/", ("Accept", "text/html"))).Text;
        Assert.Equal(204, (await other.Api.Send(HttpMethod.Post, "/sign-out", (string?)null)).Status);
        var again = await other.PressButton(old, "Sign out"); // whose session is over is signed out
        Assert.Equal((303, "/"), (again.Status, again.Location));
        Assert.Equal(401, (await other.Api.Send(HttpMethod.Post, "/sign-out", (string?)null)).Status); // a program
        using var floor = await chain.SignedIn("lena", Role.Lead);
        Assert.DoesNotContain("/sign-out", (await floor.Api.Get($"{FirstRain.Address}/walk-through", ("Accept", "text/html"))).Text);
        // A program that reads the page without a session has nothing to end.
        Assert.DoesNotContain("/sign-out", (await chain.LeadOf("harbour-street").Get($"{FirstRain.Address}/facts", ("Accept", "text/html"))).Text);
    }

    [Fact]
    public async Task Signing_out_everywhere_closes_the_persons_sessions_and_nobody_elses()
    {
        var (chain, foreign) = (service.NewChain(), service.NewChain());
        var (phone, desk) = (await chain.SignedIn("lena", Role.Lead), await chain.SignedIn("lena", Role.Lead));
        var (colleague, namesake) = (await chain.SignedIn("cy", Role.Crew), await foreign.SignedIn("lena", Role.Lead));
        Assert.Equal(204, (await phone.Api.Send(HttpMethod.Post, "/sign-out/everywhere", (string?)null)).Status);
        Assert.Equal([401, 401, 200, 200],
            await Statuses("/session", phone, desk, colleague, namesake));
    }

    /// <summary>Otherwise a copy of the cookie before would sign in whoever uses the browser next.</summary>
    [Fact]
    public async Task A_browser_that_signs_in_again_gets_a_new_key_and_the_earlier_session_is_closed()
    {
        var chain = service.NewChain();
        var (browser, copy) = (await chain.SignedIn("lena", Role.Lead), chain.Browser());
        copy.SetCookie(SessionCookie.PlainName, browser.CookieOf(SessionCookie.PlainName)!);
        Assert.Equal(204, (await browser.Open(chain.SignInLink("cy", Role.Crew, ["harbour-street"]))).Status);
        Assert.Equal("cy", (string?)(await browser.Api.Get("/session")).Json["person"]);
        Assert.Equal(401, (await copy.Api.Get("/session")).Status);
    }

    [Fact]
    public async Task A_session_reaches_its_own_chain_and_stores_only()
    {
        var (chain, foreign) = (service.NewChain(), service.NewChain());
        foreach (var store in new[] { "harbour-street", "mill-lane" })
            await chain.HeadOffice.Post("/stores", Samples.Store(store));
        var (region, stranger) = (await chain.SignedIn("rae", Role.Region, "harbour-street"),
            await foreign.SignedIn("head", Role.HeadOffice));
        Assert.Equal(200, (await region.Api.Get("/stores/harbour-street")).Status);
        Assert.Equal("other-store", (await region.Api.Get("/stores/mill-lane")).Code);
        Assert.Equal(404, (await stranger.Api.Get("/stores/harbour-street")).Status);
        Assert.Equal("other-role", (await region.Api.Post("/stores", Samples.Store("bell-yard"))).Code);
    }

    /// <summary>A request with a token is that of its bearer, whatever cookie comes with it.</summary>
    [Fact]
    public async Task A_bearer_token_goes_before_the_cookie()
    {
        var chain = service.NewChain();
        var browser = await chain.SignedIn("cy", Role.Crew, "harbour-street");
        var answer = await browser.Api.Get("/session", ("Authorization", $"Bearer {chain.TokenOf("head", Role.HeadOffice)}"));
        Assert.Equal("head", (string?)answer.Json["person"]);
        Assert.Equal(401, (await browser.Api.Get("/session", ("Authorization", "Bearer nonsense"))).Status);
    }

    [Fact]
    public async Task Every_node_knows_the_sessions_and_form_tokens_of_the_others()
    {
        await using var node = await Start(service.Settings);
        var chain = service.NewChain();
        var (here, there) = (await chain.SignedIn("head", Role.HeadOffice), new Browser(node, tls: false));
        foreach (var name in new[] { SessionCookie.PlainName, FormToken.PlainName })
            there.SetCookie(name, here.CookieOf(name)!);
        there.FormToken = here.FormToken;
        Assert.Equal(201, (await there.Api.Post("/stores", Samples.Store())).Status);
    }

    private static async Task<IReadOnlyList<int>> Statuses(string path, params Browser[] browsers)
    {
        var statuses = new List<int>();
        foreach (var browser in browsers) statuses.Add((await browser.Api.Get(path)).Status);
        return statuses;
    }

    private static void AssertFlags(string cookie, string name, string secure)
    {
        Assert.StartsWith($"{name}=", cookie);
        Assert.Matches($"; path=/{secure}; samesite=lax; httponly$", cookie);
        Assert.DoesNotContain("domain", cookie);
    }

    private static async Task<IAlbaHost> Start(Settings settings) =>
        await AlbaHost.For(Hosting.Builder(settings), Hosting.Map);

    private async Task<int> Execute(Chain chain, string sql)
    {
        await using var command = service.Host.Services.GetRequiredService<NpgsqlDataSource>().CreateCommand(sql);
        command.Parameters.AddWithValue(chain.Tenant);
        return await command.ExecuteNonQueryAsync();
    }
}
