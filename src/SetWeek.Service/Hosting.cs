using System.Net;
using System.Security.Cryptography;
using Marten;
using Microsoft.AspNetCore.Http.Features;
using NodaTime;
using Npgsql;
using SetWeek.Service.Access;
using SetWeek.Service.Access.Sessions;
using SetWeek.Service.Clocks;
using SetWeek.Service.Feed;
using SetWeek.Service.Figures;
using SetWeek.Service.Following;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Idempotency;
using SetWeek.Service.Http.OpenApi;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages;
using SetWeek.Service.Questions;
using SetWeek.Service.SignIn;
using SetWeek.Service.Solving;
using SetWeek.Service.Storage;
using SetWeek.Service.Webhooks;
using SetWeek.Service.Weeks;
using Wolverine;
using Wolverine.Marten;

namespace SetWeek.Service;

/// <summary>Builds, configures and runs the web application.</summary>
public static class Hosting
{
    public static WebApplicationBuilder Builder(Settings settings)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.WebHost.UseUrls(settings.Urls.Split(';')).ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            // RequestReader keeps the limit. With one of its own, Kestrel would close the connection on a larger body, and the
            // caller would see a broken pipe instead of the answer. Without, it answers, and then discards for some seconds what
            // comes.
            kestrel.Limits.MaxRequestBodySize = null;
        });
        builder.Logging.ClearProviders().AddJsonConsole(console =>
            {
                console.UseUtcTimestamp = true;
                console.IncludeScopes = true; // the trace id of the request, solve, round of a follower or delivery
                console.TimestampFormat = "yyyy-MM-ddTHH:mm:ss.fffZ"; // without a format the lines have no time
            })
            .Configure(logging => logging.ActivityTrackingOptions = ActivityTrackingOptions.TraceId)
            .SetMinimumLevel(LogLevel.Warning).AddFilter("SetWeek", LogLevel.Information)
            .AddFilter("Microsoft.Hosting.Lifetime", LogLevel.Information)
            // A concurrency conflict is expected: the service retries or answers 412. It must not appear as an error in the log.
            .AddFilter("Marten", LogLevel.Critical).AddFilter("Npgsql", LogLevel.Critical)
            // While the database is away, the housekeeping of messages fails every few seconds, each time with a stack. One line
            // of ours says so (OutageLog).
            .AddFilter("Wolverine.RDBMS", LogLevel.Critical).AddFilter("Wolverine.Runtime.Agents", LogLevel.Critical)
            .AddFilter("Wolverine.Persistence", LogLevel.Critical)
            // It warns that its keys lie in the database as they are. They alone open no session (docs/decisions/sign-in.md).
            .AddFilter("Microsoft.AspNetCore.DataProtection", LogLevel.Error);

        builder.Services.AddSingleton(settings).AddSingleton(TimeProvider.System)
            .AddSingleton<OutageLog>().AddSingleton<Health.WriteProbe>()
            .AddSingleton(services => ClockOf(settings, services.GetRequiredService<TimeProvider>()))
            .AddSingleton(new PlanIds(RandomNumberGenerator.GetBytes))
            .AddSingleton(services => new SolveClaims(
                services.GetRequiredService<NpgsqlDataSource>(), RandomNumberGenerator.GetHexString(16, lowercase: true)))
            .AddSingleton(new Admission(settings.AnswersAtOnce, settings.AnswerPatience))
            .AddSingleton(services => new ReportDesk(services.GetRequiredService<IDocumentStore>(), settings.ReportsWaiting));
        // A photograph stays in memory: a file on the disk would hold what is not to be kept.
        builder.Services.Configure<FormOptions>(forms =>
        {
            forms.MemoryBufferThreshold = FormMethods.MaxMultipartBytes;
            forms.MultipartBodyLengthLimit = FormMethods.MaxMultipartBytes;
            forms.ValueLengthLimit = FormMethods.MaxMultipartBytes; // a direction that is pasted
            forms.ValueCountLimit = FormMethods.MaxFields;
        });
        builder.Services.AddSingleton(NpgsqlDataSource.Create(settings.Postgres));
        builder.Services.Configure<HostOptions>(host => host.ShutdownTimeout = TimeSpan.FromSeconds(15));
        // The first to start: the keys that the framework reads at its start lie in the database.
        builder.Services.AddHostedService<DatabaseSetUp>();
        AddAccess(builder.Services, settings);
        builder.Services.AddMarten(services =>
            {
                var options = new NodeStoreOptions(new StateCache(settings.StatesKept))
                {
                    Log = services.GetRequiredService<ILoggerFactory>().CreateLogger("SetWeek.Storage"),
                };
                MartenConfiguration.Configure(options, services.GetRequiredService<NpgsqlDataSource>());
                return options;
            }).UseLightweightSessions()
            .IntegrateWithWolverine(messages => messages.MessageStorageSchemaName = Messaging.SchemaName);
        builder.Services.AddHostedService<IdempotencyCleanUp>()
            .AddHostedService(services => ActivatorUtilities.CreateInstance<SolveWorker>(services, settings.PlansAtOnce));
        builder.Services.AddSingleton(new FollowerLocks(settings.Postgres)).AddSingleton<IFollower, FiguresFollower>()
            .AddSingleton<IFollower, WebhookFollower>()
            .AddSingleton<IFollower, QuestionFollower>()
            .AddSingleton<IFollower, PlanHealthFollower>()
            .AddHostedService<Followers>();
        var outbound = new OutboundRules(settings.WebhookLoopback);
        var deliveries = new WebhookOptions(settings.WebhookWaits);
        builder.Services.AddSingleton(outbound).AddSingleton(deliveries)
            .AddSingleton(_ => new WebhookTarget(outbound, deliveries, Dns.GetHostAddressesAsync))
            .AddHostedService<WebhookSender>();
        builder.Services.AddSingleton<FeedWatch>().AddHostedService(services => services.GetRequiredService<FeedWatch>());
        builder.Host.UseWolverine(options => Messaging.Configure(options, settings));
        return builder;
    }

    public static void Map(WebApplication app)
    {
        // TLS ends at the proxy in front, and cookies are for TLS alone.
        if (app.Services.GetRequiredService<Settings>().BrowserAddress.IsSecure)
            app.Use((http, next) =>
            {
                http.Request.Scheme = Uri.UriSchemeHttps;
                return next(http);
            });
        ErrorHandling.Use(app);
        FormMethods.Use(app);
        app.UseRouting();
        app.UseAuthentication();
        app.UseAuthorization();
        MapEndpoints(app);
    }

    /// <summary>Maps every address of the API.</summary>
    public static void MapEndpoints(IEndpointRouteBuilder routes)
    {
        AllSlices.Map(routes);
        Calendars.CalendarEndpoint.Map(routes);
        StartEndpoint.Map(routes, (http, start, caller) => StartWays.Add(start, caller,
            http.RequestServices.GetRequiredService<IDocumentStore>(),
            http.RequestServices.GetRequiredService<PlanningClock>().Now, http.RequestAborted));
        OfflineEndpoint.Map(routes);
        PageFiles.Map(routes);
        SessionEndpoints.Map(routes);
        ApiDescription.Map(routes);
        Health.HealthEndpoints.Map(routes);
    }

    /// <summary>Runs the service until it is stopped.</summary>
    /// <returns>0; or 1 and a sentence on standard error if what it needs to start is missing.</returns>
    public static async Task<int> Run(Settings settings)
    {
        if (await StartChecks.Fault(settings) is { } fault)
        {
            await Console.Error.WriteLineAsync(fault);
            return 1;
        }
        await using var app = Builder(settings).Build();
        Map(app);
        app.Lifetime.ApplicationStarted.Register(() => Task.Run(() => Messaging.Prepare(app.Services)));
        await app.RunAsync();
        return 0;
    }

    /// <summary>The clock of planning: the system's, unless the settings name a file.</summary>
    private static PlanningClock ClockOf(Settings settings, TimeProvider system) => new(settings.ClockFile is { } file
        ? PlanningClock.OfFile(file) : PlanningClock.OfSystem(system))
    {
        ReportAhead = Duration.FromTimeSpan(settings.ReportAhead),
    };

    private static void AddAccess(IServiceCollection services, Settings settings)
    {
        var key = SigningKey.ReadOrCreate(settings.KeyFile);
        var address = settings.BrowserAddress;
        Authentication.Add(services, key, address.IsSecure);
        services.AddSingleton(address)
            .AddSingleton(provider => new Phones(provider.GetRequiredService<NpgsqlDataSource>(),
                provider.GetRequiredService<TimeProvider>(), address.IsSecure))
            .AddSingleton(provider => new Pins(provider.GetRequiredService<NpgsqlDataSource>(),
                provider.GetRequiredService<TimeProvider>(), key));
        services.AddSingleton(provider => new SignInLinks(key, provider.GetRequiredService<NpgsqlDataSource>(),
            provider.GetRequiredService<TimeProvider>(), allowed: address.IsLoopback));
    }
}
