using SetWeek.Cli.Commands;
using SetWeek.Cli.Demo;
using Spectre.Console.Cli;

namespace SetWeek.Cli;

/// <summary>What the program can be told to do; a new command is its file and its line here.</summary>
internal static class CommandLine
{
    public static async Task<int> Run(string[] arguments)
    {
        var app = new CommandApp();
        app.Configure(commands =>
        {
            commands.SetApplicationName("setweek");
            commands.SetExceptionHandler((wrong, _) => Report(wrong));
            commands.AddCommand<PlanCommand>("plan").WithDescription("Plans a week file.");
            commands.AddCommand<ReplanCommand>("replan")
                .WithDescription("Plans again what can still be planned, with as few changes as can be.");
            commands.AddCommand<WhatIfCommand>("what-if")
                .WithDescription("Plans a week with changes tried on it, and sets it beside the week without.");
            commands.AddCommand<CheckCommand>("check").WithDescription("Checks a plan against its week, rule by rule.");
            commands.AddCommand<WhyCommand>("why")
                .WithDescription("Says what holds a task where a plan has it, and who else could be on it.");
            commands.AddCommand<RiskCommand>("risk")
                .WithDescription("Says how likely a plan is to hold, what drives that, and what would help.");
            commands.AddCommand<ServeCommand>("serve").WithDescription("Runs the service (ops/serve sets it up).");
            commands.AddCommand<TokenCommand>("token")
                .WithDescription("Issues a token for somebody, signed with the service's key.");
            commands.AddCommand<DemoCommand>("demo")
                .WithDescription("Goes through a set week with a service that runs (ops/demo starts one).");
        });
        return await app.RunAsync(arguments);
    }

    /// <summary>A command line that cannot be understood is bad input; anything else is a failure.</summary>
    private static int Report(Exception wrong)
    {
        Console.Error.WriteLine(wrong is CommandAppException ? $"{wrong.Message} (--help says what there is.)"
            : wrong.ToString());
        return wrong is CommandAppException ? ExitCode.BadInput : ExitCode.Failed;
    }
}
