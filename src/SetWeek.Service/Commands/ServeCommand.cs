using Spectre.Console.Cli;

namespace SetWeek.Service.Commands;

/// <summary>The `serve` command: the service, as the environment sets it (docs/operations.md).</summary>
internal sealed class ServeCommand : AsyncCommand
{
    public override async Task<int> ExecuteAsync(CommandContext context, CancellationToken cancelled)
    {
        if (Settings.From(Environment.GetEnvironmentVariable) is { } settings) return await Hosting.Run(settings);
        await Console.Error.WriteLineAsync($"The service needs a PostgreSQL server: set {Settings.PostgresVariable} to an Npgsql connection string.");
        return 1;
    }
}
