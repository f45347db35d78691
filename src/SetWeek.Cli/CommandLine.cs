using SetWeek.Cli.Commands;
using SetWeek.Cli.Demo;
using Spectre.Console.Cli;

namespace SetWeek.Cli;

/// <summary>The list of commands. A new command is a file of its own and a line here.</summary>
internal static class CommandLine
{
    public static async Task<int> Run(string[] arguments)
    {
        var app = new CommandApp();
        app.Configure(commands =>
        {
            commands.SetApplicationName("setweek");
            commands.SetExceptionHandler((error, _) => Report(error));
            commands.AddCommand<PlanCommand>("plan").WithDescription("Plans a week file.");
            commands.AddCommand<ReplanCommand>("replan")
                .WithDescription("Re-plans the rest of a week with as few changes as possible, and offers options.");
            commands.AddCommand<WhatIfCommand>("what-if")
                .WithDescription("Plans a week with trial changes, and compares the plan with that of the unchanged week.");
            commands.AddCommand<CheckCommand>("check").WithDescription("Checks a plan against every rule of its week.");
            commands.AddCommand<WhyCommand>("why")
                .WithDescription("Explains why a task is not planned earlier, and who else could do it.");
            commands.AddCommand<RiskCommand>("risk")
                .WithDescription(
                    "Estimates how surely a plan holds, what drives the risk, and what would help.");
            commands.AddCommand<ServeCommand>("serve").WithDescription("Runs the service (ops/serve sets it up).");
            commands.AddCommand<TokenCommand>("token")
                .WithDescription("Prints a new access token or a sign-in link, signed with the service's key.");
            commands.AddCommand<DemoCommand>("demo")
                .WithDescription("Walks through an example week on a running service (ops/demo starts one).");
        });
        return await app.RunAsync(arguments);
    }

    /// <summary>
    /// An invalid command line ends with the exit code for bad input, any other exception with that for a failure.
    /// </summary>
    private static int Report(Exception error)
    {
        Console.Error.WriteLine(error is CommandAppException ? $"{error.Message} Run with --help for the options."
            : error.ToString());
        return error is CommandAppException ? ExitCode.BadInput : ExitCode.Failed;
    }
}
