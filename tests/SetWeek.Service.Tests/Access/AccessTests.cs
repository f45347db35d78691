using System.Reflection;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.IdentityModel.Tokens;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Service.Tests.Access;

[Collection(ServiceCollection.Name)]
public sealed class AccessTests(RunningService service)
{
    [Fact]
    public void Every_endpoint_names_its_roles_and_only_these_need_nobody_signed_in()
    {
        var endpoints = service.Host.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>().ToList();
        Assert.NotEmpty(endpoints);
        Assert.All(endpoints.Where(IsFileOfPages), file => Assert.NotNull(file.Metadata.GetMetadata<IAllowAnonymous>()));
        foreach (var endpoint in endpoints.Where(endpoint => !IsFileOfPages(endpoint)))
        {
            string[] open = ["/", "/health/live", "/health/ready", "/openapi/v1.json", "/calendars/{calendar}",
                "/sign-in/{link}", "/phone", "/phone/enrolment", "/phone/pin", "/phone/session", "/offline"];
            Assert.Equal(open.Contains(endpoint.RoutePattern.RawText),
                endpoint.Metadata.GetMetadata<IAllowAnonymous>() is not null);
            Assert.NotEmpty(endpoint.Metadata.GetRequiredMetadata<Operation>().MayUse.Roles);
        }

        static bool IsFileOfPages(RouteEndpoint endpoint) =>
            endpoint.RoutePattern.RawText!.StartsWith("/assets/", StringComparison.Ordinal)
                || endpoint.RoutePattern.RawText == OfflineEndpoint.Worker;
    }

    [Fact]
    public void Every_slice_is_mapped()
    {
        var mapped = service.Host.Services.GetRequiredService<EndpointDataSource>().Endpoints
            .Select(endpoint => endpoint.Metadata.GetMetadata<Operation>()?.Id);
        var declared = typeof(ISlice).Assembly.GetTypes().Where(type => type.IsClass && type.IsAssignableTo(typeof(ISlice)))
            .Select(type => type.GetProperty("Operation", BindingFlags.Public | BindingFlags.Static)!.GetValue(null)!)
                .Select(operation => ((Operation)operation).Id);
        Assert.Empty(declared.Except(mapped));
    }

    [Theory]
    [InlineData("/stores/harbour-street")]
    [InlineData("/feed")]
    [InlineData("/no-such-thing")]
    public async Task Requests_without_a_token_get_401(string path)
    {
        using var client = service.Host.Server.CreateClient();
        using var answer = await client.GetAsync(path);
        Assert.Equal(401, (int)answer.StatusCode);
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
        Assert.Equal("Bearer", answer.Headers.WwwAuthenticate.ToString());
    }

    [Theory]
    [InlineData("/health/live")]
    [InlineData("/health/ready")]
    [InlineData("/openapi/v1.json")]
    [InlineData("/")]
    public async Task Health_the_start_and_the_description_need_no_token(string path)
    {
        using var client = service.Host.Server.CreateClient();
        Assert.Equal(200, (int)(await client.GetAsync(path)).StatusCode);
    }

    [Fact]
    public async Task Forged_expired_and_unsigned_tokens_are_refused()
    {
        var chain = service.NewChain();
        var caller = new Caller(chain.Tenant, "eve", Role.HeadOffice, [Caller.AnyStore]);
        var now = TimeProvider.System.GetUtcNow();
        var forged = Tokens.Issue(new SymmetricSecurityKey(new byte[64]), caller, now, TimeSpan.FromHours(1));
        var expired = Tokens.Issue(SigningKey.ReadOrCreate(service.Settings.KeyFile), caller,
            now.AddHours(-2), TimeSpan.FromHours(1));
        // RFC 8725, section 3.1: a token with the algorithm "none" must be rejected.
        var unsigned = "eyJhbGciOiJub25lIn0." + forged.Split('.')[1] + ".";
        foreach (var token in new[] { forged, expired, unsigned, "nonsense" })
            Assert.Equal(401, (await chain.WithToken(token).Get("/feed")).Status);
    }

    [Fact]
    public async Task A_role_without_permission_gets_the_permitted_roles()
    {
        var answer = await service.NewChain().LeadOf("harbour-street").Post("/stores", Samples.Store());
        Assert.Equal((403, "other-role"), (answer.Status, answer.Code));
        Assert.Contains("head-office", answer.Text);
    }

    /// <summary>The roles of the API have ids; a page calls people what they are called.</summary>
    [Fact]
    public async Task A_page_that_is_for_others_says_for_whom_in_words()
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        var crew = await chain.As("p3", Role.Crew, "harbour-street").Get($"{FirstRain.Address}/facts", ("Accept", "text/html"));
        Assert.Equal(403, crew.Status);
        Assert.Contains("This is for leads and head office. You are signed in as crew.", crew.Text);
        Assert.DoesNotContain("head-office", crew.Text);
        var lead = await chain.LeadOf("mill-lane").Get("/stores/harbour-street/phones", ("Accept", "text/html"));
        Assert.Equal(403, lead.Status);
        Assert.Contains("You are not signed in for the store harbour-street.", lead.Text);
        Assert.DoesNotContain("token", lead.Text);
    }

    [Fact]
    public async Task A_lead_can_read_their_own_store_only()
    {
        var chain = service.NewChain();
        await chain.HeadOffice.Post("/stores", Samples.Store("harbour-street"));
        await chain.HeadOffice.Post("/stores", Samples.Store("mill-lane"));
        var lead = chain.LeadOf("harbour-street");
        Assert.Equal(200, (await lead.Get("/stores/harbour-street")).Status);
        Assert.Equal("other-store", (await lead.Get("/stores/mill-lane")).Code);
    }

    /// <summary>The refusals are compared, because any difference would tell that the week exists.</summary>
    [Fact]
    public async Task A_lead_of_another_store_cannot_learn_that_a_week_exists()
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        var other = chain.LeadOf("mill-lane");
        foreach (var path in (string[])["", "/week-file", "/plan", "/plans/none"])
        {
            var (existing, missing) = (await other.Get($"/weeks/{FirstRain.Id}{path}"), await other.Get($"/weeks/no-such{path}"));
            Assert.Equal(404, existing.Status);
            Assert.Equal(missing.Text.Replace("no-such", FirstRain.Id), existing.Text);
        }
        var report = """{"id": "r1", "task": "wall.paint", "night": "monday", "at": "2027-03-08T20:10:00Z"}""";
        Assert.Equal(404, (await other.Post($"{FirstRain.Address}/work/started", report)).Status);
        Assert.Equal(404, (await other.Post($"{FirstRain.Address}/plans", "{}")).Status);
    }

    [Fact]
    public async Task A_tenant_cannot_read_another()
    {
        var (first, second) = (service.NewChain(), service.NewChain());
        await first.HeadOffice.Post("/stores", Samples.Store());
        Assert.Equal(404, (await second.HeadOffice.Get("/stores/harbour-street")).Status);
        Assert.Empty((await second.HeadOffice.Get("/feed")).Json.AsArray());
        Assert.Equal(201, (await second.HeadOffice.Post("/stores", Samples.Store())).Status);
    }

    /// <summary>The processes of a first start: each reads the one key, complete, whoever wrote it.</summary>
    [Fact]
    public async Task Processes_that_start_at_once_agree_on_one_signing_key()
    {
        var folder = Directory.CreateTempSubdirectory("setweek-keys-").FullName;
        for (var round = 0; round < 100; round++)
        {
            var path = Path.Combine(folder, $"{round}.key");
            using var together = new Barrier(8);
            var keys = await Task.WhenAll(Enumerable.Range(0, 8).Select(_ => Task.Factory.StartNew(() =>
            {
                together.SignalAndWait();
                return Convert.ToBase64String(SigningKey.ReadOrCreate(path).Key);
            }, CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default)));
            Assert.Single(keys.Distinct());
        }
        Assert.Equal(100, Directory.GetFiles(folder).Length); // nothing left beside them
        Directory.Delete(folder, recursive: true);
    }

    [Fact]
    public void A_signing_key_that_others_can_read_is_refused()
    {
        var path = service.Settings.KeyFile;
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(path));
        var readable = path + ".readable";
        File.Copy(path, readable);
        File.SetUnixFileMode(readable, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.GroupRead);
        Assert.Contains("chmod 600", Assert.Throws<InvalidOperationException>(() => SigningKey.ReadOrCreate(readable)).Message);
        File.Delete(readable);
    }
}
