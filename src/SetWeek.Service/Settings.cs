namespace SetWeek.Service;

/// <summary>Everything that the environment decides (docs/operations.md).</summary>
public sealed record Settings
{
    public const string PostgresVariable = "SETWEEK_POSTGRES", UrlsVariable = "SETWEEK_URLS",
        KeyFileVariable = "SETWEEK_KEY_FILE", NodesVariable = "SETWEEK_NODES";

    public const string DefaultUrls = "http://127.0.0.1:5080", DefaultKeyFile = ".setweek/signing.key";

    /// <summary>An Npgsql connection string.</summary>
    public required string Postgres { get; init; }

    public string Urls { get; init; } = DefaultUrls;
    public string KeyFile { get; init; } = DefaultKeyFile;

    /// <summary>Several services share the database; they then agree on who does what, which makes starting slower.</summary>
    public bool SeveralNodes { get; init; }

    /// <summary>Null where the database is not named, which nothing can replace.</summary>
    public static Settings? From(Func<string, string?> variable) =>
        Given(variable(PostgresVariable)) is not { } postgres ? null : new()
    {
        Postgres = postgres,
        Urls = Given(variable(UrlsVariable)) ?? DefaultUrls,
        KeyFile = Given(variable(KeyFileVariable)) ?? DefaultKeyFile,
        SeveralNodes = variable(NodesVariable) == "several",
    };

    private static string? Given(string? value) => string.IsNullOrWhiteSpace(value) ? null : value;
}
