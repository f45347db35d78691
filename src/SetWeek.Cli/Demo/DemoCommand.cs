using System.ComponentModel;
using SetWeek.Cli.Tables;
using Spectre.Console.Cli;

namespace SetWeek.Cli.Demo;

/// <summary>The `demo` command: walks through <see cref="DemoRun"/> on a service that runs already (ops/demo starts one).</summary>
internal sealed class DemoCommand : AsyncCommand<DemoCommand.Arguments>
{
    /// <summary>Tokens come by the environment: arguments can be read by everybody on the machine.</summary>
    public const string OfficeVariable = "SETWEEK_DEMO_HEAD_OFFICE", LeadVariable = "SETWEEK_DEMO_LEAD",
        CrewVariable = "SETWEEK_DEMO_CREW";

    public sealed class Arguments : CommandSettings
    {
        [CommandOption("--url <URL>"), Description("The service's address.")]
        public string Url { get; init; } = Service.Settings.DefaultUrls;

        [CommandOption("--scenario <FOLDER>"), Description("The folder of the scenario's files.")]
        public string Scenario { get; init; } = "ops/scenario";

        [CommandOption("--seconds <S>"), Description("How long each plan may be looked for.")]
        public int Seconds { get; init; } = 6;
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Arguments given, CancellationToken cancelled)
    {
        var console = Terminal.Output();
        using var http = new HttpClient { BaseAddress = new Uri(given.Url), Timeout = TimeSpan.FromSeconds(60) };
        try
        {
            var (office, lead, crew) = (As(OfficeVariable, "office"), As(LeadVariable, "lead"), As(CrewVariable, "crew"));
            await new DemoRun(console, TimeProvider.System, office, lead, crew, given.Scenario, given.Seconds).Run(cancelled);
            return 0;
        }
        catch (Exception stopped) when (stopped is DemoStopped or HttpRequestException or TaskCanceledException)
        {
            await Console.Error.WriteLineAsync($"The demo stopped: {stopped.Message}");
            return 1;
        }

        DemoApi As(string variable, string person) => new(http,
            Environment.GetEnvironmentVariable(variable) ?? throw new DemoStopped($"{variable} has no token; ops/demo sets it."),
            person);
    }
}
