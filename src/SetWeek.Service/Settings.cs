using System.Globalization;
using Npgsql;
using OneOf;
using SetWeek.Service.Access.Sessions;
using SetWeek.Service.Clocks;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Storage;

namespace SetWeek.Service;

/// <summary>The settings, read from environment variables (docs/operations.md).</summary>
public sealed record Settings
{
    public const string PostgresVariable = "SETWEEK_POSTGRES", UrlsVariable = "SETWEEK_URLS",
        KeyFileVariable = "SETWEEK_KEY_FILE", NodesVariable = "SETWEEK_NODES", AnswersVariable = "SETWEEK_ANSWERS_AT_ONCE",
        PlansVariable = "SETWEEK_PLANS_AT_ONCE",
        PatienceVariable = "SETWEEK_ANSWER_PATIENCE", StatesVariable = "SETWEEK_STATES_KEPT",
        ReportsVariable = "SETWEEK_REPORTS_WAITING", PasswordVariable = "SETWEEK_POSTGRES_PASSWORD",
        WebhookTargetsVariable = "SETWEEK_WEBHOOK_TARGETS", WebhookWaitsVariable = "SETWEEK_WEBHOOK_WAITS",
        ClockVariable = "SETWEEK_CLOCK_FILE", AheadVariable = "SETWEEK_REPORT_AHEAD_MINUTES",
        PublicUrlVariable = "SETWEEK_PUBLIC_URL";

    private const string PublicTargets = "public", LoopbackTargets = "loopback";

    public const string DefaultUrls = "http://127.0.0.1:5080", DefaultKeyFile = ".setweek/signing.key";

    /// <summary>An Npgsql connection string.</summary>
    public required string Postgres { get; init; }

    public string Urls { get; init; } = DefaultUrls;

    /// <summary>The address that browsers use where a proxy is in front; null where there is none.</summary>
    public string? PublicUrl { get; init; }

    public BrowserAddress BrowserAddress => new(Urls, PublicUrl);

    public string KeyFile { get; init; } = DefaultKeyFile;

    /// <summary>Whether several nodes share the database. They then coordinate, which makes the start slower.</summary>
    public bool SeveralNodes { get; init; }

    /// <summary>
    /// How many plans this node computes at once. A search uses two cores unless asked otherwise, so the default follows the
    /// cores.
    /// </summary>
    public int PlansAtOnce { get; init; } = DefaultPlansAtOnce;

    /// <summary>How many computations for waiting callers (what-if, why, risk) run at once.</summary>
    public int AnswersAtOnce { get; init; } = 2;

    /// <summary>How long a caller queues for such a computation before it is refused.</summary>
    public TimeSpan AnswerPatience { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>How many folded weeks, stores and directions the node keeps in memory.</summary>
    public int StatesKept { get; init; } = StateCache.DefaultCapacity;

    /// <summary>How many reports of a chain wait for their commit before further ones are refused.</summary>
    public int ReportsWaiting { get; init; } = ReportDesk.DefaultCapacity;

    /// <summary>Whether webhooks may lead to this machine, and without TLS: for tests and demonstrations.</summary>
    public bool WebhookLoopback { get; init; }

    /// <summary>The times between the attempts to deliver to a webhook.</summary>
    public IReadOnlyList<TimeSpan> WebhookWaits { get; init; } = DefaultWebhookWaits;

    /// <summary>The example of the Standard Webhooks specification 1.0.0, "Deliverability and reliability": 76 hours.</summary>
    private static readonly TimeSpan[] DefaultWebhookWaits =
    [
        TimeSpan.FromSeconds(5), TimeSpan.FromMinutes(5), TimeSpan.FromMinutes(30), TimeSpan.FromHours(2), TimeSpan.FromHours(5),
        TimeSpan.FromHours(10), TimeSpan.FromHours(14), TimeSpan.FromHours(20), TimeSpan.FromHours(24),
    ];

    /// <summary>The file that holds the current time of planning; null for the system's clock.</summary>
    public string? ClockFile { get; init; }

    /// <summary>How far the time of a report may be ahead of the service's clock and still be believed.</summary>
    public TimeSpan ReportAhead { get; init; } = TimeSpan.FromMinutes(10);

    /// <returns>The settings; or every missing or invalid variable, one sentence each.</returns>
    public static OneOf<Settings, IReadOnlyList<string>> From(Func<string, string?> variable)
    {
        var plans = Number(PlansVariable, 1, 100, otherwise: DefaultPlansAtOnce);
        var (atOnce, patience) = (Number(AnswersVariable, 1, 100, otherwise: 2), Number(PatienceVariable, 1, 600, otherwise: 30));
        var states = Number(StatesVariable, 1, 1_000_000, otherwise: StateCache.DefaultCapacity);
        var reports = Number(ReportsVariable, 1, 1_000_000, otherwise: ReportDesk.DefaultCapacity);
        var ahead = Number(AheadVariable, 0, 720, otherwise: 10);
        var clock = Given(variable(ClockVariable));
        var (postgres, unreadable) = Database(Given(variable(PostgresVariable)), Given(variable(PasswordVariable)));
        var waits = Given(variable(WebhookWaitsVariable)) is { } listed ? WaitsIn(listed) : DefaultWebhookWaits;
        var targets = Given(variable(WebhookTargetsVariable));
        var publicUrl = Given(variable(PublicUrlVariable));
        string[] faults =
        [
            .. postgres is null && unreadable is null
                ? (string[])[$"{PostgresVariable} is missing; set it to the Npgsql connection string of a PostgreSQL server."]
                : [],
            .. unreadable is null ? [] : (string[])[unreadable],
            .. plans is null ? (string[])[$"{PlansVariable} needs a whole number from 1 to 100."] : [],
            .. atOnce is null ? (string[])[$"{AnswersVariable} needs a whole number from 1 to 100."] : [],
            .. patience is null ? (string[])[$"{PatienceVariable} needs a whole number of seconds from 1 to 600."] : [],
            .. states is null ? (string[])[$"{StatesVariable} needs a whole number from 1 to 1000000."] : [],
            .. reports is null ? (string[])[$"{ReportsVariable} needs a whole number from 1 to 1000000."] : [],
            .. waits is null
                ? (string[])[$"{WebhookWaitsVariable} needs whole numbers of seconds, for example 5,300,1800."]
                : [],
            .. targets is null or PublicTargets or LoopbackTargets ? (string[])[]
                : [$"{WebhookTargetsVariable} must be {PublicTargets} or {LoopbackTargets}."],
            .. publicUrl is not null && BrowserAddress.FaultOf(publicUrl) is { } fault
                ? (string[])[$"{PublicUrlVariable} {fault}"] : [],
            .. ahead is null ? (string[])[$"{AheadVariable} needs a whole number of minutes from 0 to 720."] : [],
            .. clock is not null && PlanningClock.ReadFile(clock) is null
                ? (string[])[$"{ClockVariable} needs a file that holds the current time, for example 2027-03-08T21:30:00Z."] : [],
        ];
        if (faults.Length > 0) return faults;
        return new Settings
        {
            Postgres = postgres!,
            Urls = Given(variable(UrlsVariable)) ?? DefaultUrls,
            PublicUrl = publicUrl,
            KeyFile = Given(variable(KeyFileVariable)) ?? DefaultKeyFile,
            SeveralNodes = variable(NodesVariable) == "several",
            PlansAtOnce = plans!.Value,
            AnswersAtOnce = atOnce!.Value,
            AnswerPatience = TimeSpan.FromSeconds(patience!.Value),
            StatesKept = states!.Value,
            ReportsWaiting = reports!.Value,
            WebhookLoopback = targets == LoopbackTargets,
            WebhookWaits = waits!,
            ClockFile = clock,
            ReportAhead = TimeSpan.FromMinutes(ahead!.Value),
        };

        int? Number(string name, int min, int max, int otherwise) => Given(variable(name)) is not { } text ? otherwise
            : int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number)
                && number >= min && number <= max
                ? number : null;
    }

    private static int DefaultPlansAtOnce => Math.Max(1, Environment.ProcessorCount / 2);

    /// <summary>The connection string with the password in it; or the sentence that says why it cannot be read.</summary>
    private static (string? Postgres, string? Fault) Database(string? given, string? password)
    {
        if (given is null) return (null, null);
        try
        {
            var database = new NpgsqlConnectionStringBuilder(given);
            // The builder quotes what has a meaning in a connection string, such as a semicolon.
            if (password is not null) database.Password = password;
            return (password is null ? given : database.ConnectionString, null);
        }
        catch (Exception error) when (error is ArgumentException or FormatException)
        {
            return (null, $"{PostgresVariable} is not an Npgsql connection string such as Host=127.0.0.1;Username=setweek. "
                + $"Give a password with a semicolon, a quote or a space in {PasswordVariable}.");
        }
    }

    /// <returns>Null if the text is not a list of seconds.</returns>
    private static IReadOnlyList<TimeSpan>? WaitsIn(string text)
    {
        var waits = text.Split(',').Select(part =>
            int.TryParse(part.Trim(), NumberStyles.None, CultureInfo.InvariantCulture, out var seconds) && seconds <= 30 * 86_400
                ? TimeSpan.FromSeconds(seconds) : (TimeSpan?)null).ToList();
        return waits.Contains(null) ? null : [.. waits.OfType<TimeSpan>()];
    }

    private static string? Given(string? value) => string.IsNullOrWhiteSpace(value) ? null : value;
}
