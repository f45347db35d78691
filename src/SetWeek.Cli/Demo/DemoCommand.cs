using System.ComponentModel;
using SetWeek.Cli.Commands;
using SetWeek.Cli.Input;
using SetWeek.Cli.Tables;
using Spectre.Console;
using Spectre.Console.Cli;

namespace SetWeek.Cli.Demo;

/// <summary>The `demo` command: runs <see cref="DemoRun"/> against a running service (ops/demo starts one).</summary>
internal sealed class DemoCommand : AsyncCommand<DemoCommand.Arguments>
{
    /// <summary>Tokens come from the environment, because every user of the machine can read command-line arguments.</summary>
    public const string OfficeVariable = "SETWEEK_DEMO_HEAD_OFFICE", LeadVariable = "SETWEEK_DEMO_LEAD",
        CrewVariable = "SETWEEK_DEMO_CREW";

    public sealed class Arguments : CommandSettings
    {
        [CommandOption("--url <URL>"), Description("The address of the service.")]
        public string Url { get; init; } = Service.Settings.DefaultUrls;

        [CommandOption("--scenario <FOLDER>"), Description("The folder with the files of the example week.")]
        public string Scenario { get; init; } = "ops/scenario";

        [CommandOption("--seconds <S>"), Description("Time limit of each search; default: 6.")]
        public NumberOption? Seconds { get; init; }

        public override ValidationResult Validate() =>
            (NumberOption.WholeFault("--seconds", Seconds, 1, 99, 6)
                ?? (Uri.TryCreate(Url, UriKind.Absolute, out _) ? null
                    : $"--url needs an address, for example {Service.Settings.DefaultUrls}."))
                is { } fault ? ValidationResult.Error(fault) : ValidationResult.Success();
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Arguments given, CancellationToken cancelled)
    {
        var console = Terminal.Output();
        using var http = new HttpClient { BaseAddress = new Uri(given.Url), Timeout = TimeSpan.FromSeconds(60) };
        try
        {
            var (office, lead, crew) = (ClientFor(OfficeVariable, "office"), ClientFor(LeadVariable, "lead"),
                ClientFor(CrewVariable, "crew"));
            await new DemoRun(console, TimeProvider.System, DemoClock.FromEnvironment(), office,
                    lead, crew, given.Scenario, given.Seconds?.Whole ?? 6)
                .Run(cancelled);
            return ExitCode.Done;
        }
        catch (Exception stopped) when (stopped is DemoStopped or HttpRequestException or TaskCanceledException)
        {
            await Console.Error.WriteLineAsync($"The demo stopped: {stopped.Message}");
            return ExitCode.Failed;
        }

        DemoApi ClientFor(string variable, string person) => new(http,
            Environment.GetEnvironmentVariable(variable)
                ?? throw new DemoStopped($"The environment variable {variable} holds no token; ops/demo sets it."),
            person);
    }
}
