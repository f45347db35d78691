using System.Globalization;
using OneOf;

namespace SetWeek.Service;

/// <summary>Everything that the environment decides (docs/operations.md).</summary>
public sealed record Settings
{
    public const string PostgresVariable = "SETWEEK_POSTGRES", UrlsVariable = "SETWEEK_URLS",
        KeyFileVariable = "SETWEEK_KEY_FILE", NodesVariable = "SETWEEK_NODES", AnswersVariable = "SETWEEK_ANSWERS_AT_ONCE",
        PatienceVariable = "SETWEEK_ANSWER_PATIENCE";

    public const string DefaultUrls = "http://127.0.0.1:5080", DefaultKeyFile = ".setweek/signing.key";

    /// <summary>An Npgsql connection string.</summary>
    public required string Postgres { get; init; }

    public string Urls { get; init; } = DefaultUrls;
    public string KeyFile { get; init; } = DefaultKeyFile;

    /// <summary>Several services share the database; they then agree on who does what, which makes starting slower.</summary>
    public bool SeveralNodes { get; init; }

    /// <summary>
    /// How many answers (what if, why, risk) are worked out at once, and how long whoever asks then waits for a turn.
    /// </summary>
    public int AnswersAtOnce { get; init; } = 2;

    public TimeSpan AnswerPatience { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>Or what is missing or cannot be understood, a sentence each.</summary>
    public static OneOf<Settings, IReadOnlyList<string>> From(Func<string, string?> variable)
    {
        var (atOnce, patience) = (Number(AnswersVariable, 1, 100, otherwise: 2), Number(PatienceVariable, 1, 600, otherwise: 30));
        var postgres = Given(variable(PostgresVariable));
        string[] faults =
        [
            .. postgres is null
                ? (string[])[$"The service needs a PostgreSQL server: set {PostgresVariable} to an Npgsql connection string."]
                : [],
            .. atOnce is null ? (string[])[$"{AnswersVariable} takes a whole number from 1 to 100."] : [],
            .. patience is null ? (string[])[$"{PatienceVariable} takes whole seconds, from 1 to 600."] : [],
        ];
        if (faults.Length > 0) return faults;
        return new Settings
        {
            Postgres = postgres!,
            Urls = Given(variable(UrlsVariable)) ?? DefaultUrls,
            KeyFile = Given(variable(KeyFileVariable)) ?? DefaultKeyFile,
            SeveralNodes = variable(NodesVariable) == "several",
            AnswersAtOnce = atOnce!.Value,
            AnswerPatience = TimeSpan.FromSeconds(patience!.Value),
        };

        int? Number(string name, int least, int most, int otherwise) => Given(variable(name)) is not { } text ? otherwise
            : int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number)
                && number >= least && number <= most
                ? number : null;
    }

    private static string? Given(string? value) => string.IsNullOrWhiteSpace(value) ? null : value;
}
