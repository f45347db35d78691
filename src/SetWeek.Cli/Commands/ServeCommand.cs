using SetWeek.Service;
using Spectre.Console.Cli;

namespace SetWeek.Cli.Commands;

/// <summary>The `serve` command: runs the service with the settings of the environment (docs/operations.md).</summary>
internal sealed class ServeCommand : AsyncCommand
{
    public override Task<int> ExecuteAsync(CommandContext context, CancellationToken cancelled) =>
        Settings.From(Environment.GetEnvironmentVariable).Match(Hosting.Run, async faults =>
        {
            foreach (var fault in faults) await Console.Error.WriteLineAsync(fault);
            return ExitCode.Failed;
        });
}
