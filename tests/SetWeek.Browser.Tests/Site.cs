using System.Net.Http.Headers;
using System.Security.Cryptography;
using System.Text.Json;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Microsoft.Playwright;
using Npgsql;
using NpgsqlTypes;
using SetWeek.Service;
using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;
using SetWeek.Service.Clocks;
using SetWeek.Service.Http.OpenApi;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Json;
using SetWeek.Service.Solving;
using SetWeek.Service.Tests;

namespace SetWeek.Browser.Tests;

/// <summary>
/// One service on a loopback port with the PostgreSQL of the test run, and one Chromium, for all tests of the collection. Each
/// test uses a chain and a browser context of its own.
/// </summary>
public sealed class Site : IAsyncLifetime
{
    private readonly string keyFile = Path.Combine(Path.GetTempPath(), $"setweek-{RandomNumberGenerator.GetHexString(12)}.key");
    private WebApplication? service;
    private Task<StoreWeek>? harbourStreet, workedNight, largestWeek;
    private Func<HttpContext, Task> wait = _ => Task.CompletedTask;

    /// <summary>The clock of planning. It stands still, and a test moves it.</summary>
    public TestClock Clock { get; } = new();

    public Uri Address { get; private set; } = null!;

    /// <summary>Requests for this address get no answer, as if the network had just gone away.</summary>
    public string? LostPath { get; set; }

    /// <summary>Requests for this address are answered by another than the service.</summary>
    public string? StrangePath { get; set; }

    /// <summary>The version of the service, as far as a browser sees it; null: that which was built.</summary>
    public string? Version { get; set; }

    public IPlaywright Playwright { get; private set; } = null!;

    public IBrowser Browser { get; private set; } = null!;

    /// <summary>The demo's week of Harbour Street, published, in its first night. Tests read it and change nothing.</summary>
    public Task<StoreWeek> HarbourStreet => harbourStreet ??= StoreWeek.OfDemo(this);

    /// <summary>The same week later in that night, with its reports.</summary>
    public Task<StoreWeek> WorkedNight => workedNight ??= Tests.WorkedNight.Of(this);

    /// <summary>A week at the limits, in its first night. Tests read it and change nothing.</summary>
    public Task<StoreWeek> LargestWeek => largestWeek ??= Tests.LargestWeek.InItsFirstNight(this);

    public async Task InitializeAsync()
    {
        if (Chromium.Program is null) return; // every test is skipped
        var builder = Hosting.Builder(new Settings
        {
            Postgres = RunningService.Postgres, KeyFile = keyFile, Urls = "http://127.0.0.1:0",
            WebhookLoopback = true, WebhookWaits = [],
        });
        // Nobody reads its log, and in `ops/bench pages` its lines would stand between the figures.
        builder.Logging.ClearProviders();
        builder.Services.AddSingleton(Clock).AddSingleton(new PlanningClock(() => Clock.Now));
        service = builder.Build();
        service.Use(async (http, next) =>
        {
            await wait(http);
            if (http.Request.Path == LostPath) http.Abort();
            else if (http.Request.Path == StrangePath) await Results.Content("<h1>Welcome</h1>", "text/html").ExecuteAsync(http);
            else if (Version is { } version) await OtherVersion.Answer(http, next, version);
            else await next(http);
        });
        Hosting.Map(service);
        service.Use(Fail);
        await service.StartAsync();
        Address = new Uri(service.Urls.Single());
        Playwright = await Microsoft.Playwright.Playwright.CreateAsync();
        Assertions.SetDefaultExpectTimeout(Visit.Patience);
        Browser = await Playwright.Chromium.LaunchAsync(Chromium.Options);
    }

    public async Task DisposeAsync()
    {
        if (service is null) return;
        if (Browser is not null) await Browser.DisposeAsync();
        Playwright?.Dispose();
        await service.StopAsync();
        await service.DisposeAsync();
        File.Delete(keyFile);
    }

    /// <summary>A name for a chain that no other test uses.</summary>
    public static string NewChain() => $"chain-{RandomNumberGenerator.GetHexString(10, lowercase: true)}";

    /// <summary>What the service does, as its API description lists it.</summary>
    public IReadOnlyList<Operation> Operations => [.. ApiDescription.Operations(service!.Services
        .GetServices<EndpointDataSource>().SelectMany(source => source.Endpoints))];

    /// <summary>A client with the token of a person. It checks every answer against the API description.</summary>
    public ApiClient As(string chain, string person, Role role, params string[] stores)
    {
        var client = new HttpClient { BaseAddress = Address };
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", Tokens.Issue(
            SigningKey.ReadOrCreate(keyFile), CallerOf(chain, person, role, stores), TimeProvider.System.GetUtcNow(),
            TimeSpan.FromHours(1)));
        return new ApiClient(client);
    }

    /// <summary>The address that signs a person in, once.</summary>
    public string SignInLink(string chain, string person, Role role, params string[] stores) => new Uri(SignInLinks.Make(
        SigningKey.ReadOrCreate(keyFile), new BrowserAddress(Address.ToString(), null), CallerOf(chain, person, role, stores),
        TimeProvider.System.GetUtcNow(), RandomNumberGenerator.GetHexString(32))).AbsolutePath;

    /// <summary>Lets no search begin until the result is disposed, so that a page of one that waits stays as it is.</summary>
    public async Task<IAsyncDisposable> HoldSearches()
    {
        var connection = await service!.Services.GetRequiredService<NpgsqlDataSource>().OpenConnectionAsync();
        await connection.BeginTransactionAsync(); // it ends with its connection, and the lock with it
        await SolveClaims.LockClaims(connection, CancellationToken.None);
        return connection;
    }

    /// <summary>Holds the answers of addresses that contain a text, as a slow network does, until the result is disposed.</summary>
    public IDisposable HoldAnswers(string text)
    {
        var held = new HeldAnswers(text);
        wait = held.Wait;
        return held;
    }

    /// <summary>
    /// The options of a context in which addresses begin at the service. Its pages have no service worker, so that each is as the
    /// service has sent it.
    /// </summary>
    public BrowserNewContextOptions ContextOptions => new()
    {
        BaseURL = Address.ToString(), Locale = "en-GB", TimezoneId = "Europe/London", ServiceWorkers = ServiceWorkerPolicy.Block,
    };

    /// <summary>A page in a context of its own, in which nobody is signed in.</summary>
    public async Task<Visit> Open(Action<BrowserNewContextOptions>? change = null)
    {
        var options = ContextOptions;
        change?.Invoke(options);
        var context = await Browser.NewContextAsync(options);
        context.SetDefaultTimeout(Visit.Patience); // also for pages that it opens by itself, and requests without a page
        return new(this, await context.NewPageAsync());
    }

    /// <summary>The same on a phone, whose service worker keeps pages.</summary>
    public Task<Visit> OpenPhone() => Open(options => options.ServiceWorkers = ServiceWorkerPolicy.Allow);

    /// <summary>A page in a context of its own, in which a person has signed in by a link.</summary>
    public async Task<Visit> SignedIn(string chain, string person, Role role, params string[] stores)
    {
        var visit = await Open();
        await visit.SignIn(chain, person, role, stores);
        return visit;
    }

    /// <summary>Stores a request for a plan as if the planner had ended with a fault in each of its attempts.</summary>
    public async Task FailPlan(string chain, string plan)
    {
        await using var fail = service!.Services.GetRequiredService<NpgsqlDataSource>().CreateCommand("""
            update setweek.mt_doc_candidateplan set data = data || '{"state": "failed", "failure": "The planner has failed."}'
            where tenant_id = $1 and id = $2
            """);
        fail.Parameters.AddWithValue(chain);
        fail.Parameters.AddWithValue(plan);
        Assert.Equal(1, await fail.ExecuteNonQueryAsync());
    }

    /// <summary>Stores what a search has found for a request that waits (<see cref="HoldSearches"/>), as a node would.</summary>
    public async Task TellBest(string chain, string plan, BestSoFar best)
    {
        await using var tell = service!.Services.GetRequiredService<NpgsqlDataSource>().CreateCommand("""
            with plan as (
                update setweek.mt_doc_candidateplan set data = data || '{"state": "solving"}' where tenant_id = $1 and id = $2)
            update setweek.solve_requests set best = $3 where tenant_id = $1 and plan = $2
            """);
        tell.Parameters.AddWithValue(chain);
        tell.Parameters.AddWithValue(plan);
        tell.Parameters.AddWithValue(NpgsqlDbType.Jsonb, JsonSerializer.Serialize(best, JsonFormat.Options));
        Assert.Equal(1, await tell.ExecuteNonQueryAsync());
    }

    /// <summary>Closes every session of a person, as if their time were over.</summary>
    public async Task EndSessions(string chain, string person)
    {
        await using var end = service!.Services.GetRequiredService<NpgsqlDataSource>()
            .CreateCommand("delete from setweek.browser_session where tenant_id = $1 and person = $2");
        end.Parameters.AddWithValue(chain);
        end.Parameters.AddWithValue(person);
        await end.ExecuteNonQueryAsync();
    }

    /// <summary>Takes away what sessions are read from, until the result is disposed: each page of a session fails.</summary>
    public async Task<IAsyncDisposable> LoseSessions()
    {
        var database = service!.Services.GetRequiredService<NpgsqlDataSource>();
        await using var lose = database.CreateCommand("alter table setweek.browser_session rename to browser_session_away");
        await lose.ExecuteNonQueryAsync();
        return new FoundSessions(database);
    }

    private sealed class FoundSessions(NpgsqlDataSource database) : IAsyncDisposable
    {
        public async ValueTask DisposeAsync()
        {
            await using var find = database.CreateCommand("alter table setweek.browser_session_away rename to browser_session");
            await find.ExecuteNonQueryAsync();
        }
    }

    /// <summary>Two addresses meet a fault inside the service: one of ours, and a database that does not answer.</summary>
    private static Task Fail(HttpContext http, RequestDelegate next) => http.Request.Path.Value switch
    {
        "/fault" => throw new InvalidOperationException("A fault of the service, for a test."),
        "/outage" => throw new NpgsqlException("away", new TimeoutException()),
        _ => next(http),
    };

    private static Caller CallerOf(string chain, string person, Role role, string[] stores) =>
        new(chain, person, role, stores.Length == 0 ? [Caller.AnyStore] : stores);
}

[CollectionDefinition(Name)]
public sealed class SiteCollection : ICollectionFixture<Site>
{
    public const string Name = "site";
}
