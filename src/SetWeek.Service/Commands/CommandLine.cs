using Spectre.Console.Cli;

namespace SetWeek.Service.Commands;

/// <summary>What the program can be told to do; a new command is its file and its line here.</summary>
internal static class CommandLine
{
    public static async Task<int> Run(string[] arguments)
    {
        var app = new CommandApp();
        app.Configure(commands =>
        {
            commands.SetApplicationName("setweek");
            commands.AddCommand<ServeCommand>("serve").WithDescription("Runs the service (ops/serve sets it up).");
            commands.AddCommand<TokenCommand>("token").WithDescription("Issues a token for somebody, signed with the service's key.");
            commands.AddCommand<DemoCommand>("demo").WithDescription("Goes through a set week with a service that runs (ops/demo starts one).");
        });
        return await app.RunAsync(arguments) is var code and >= 0 ? code : 1; // what the parser refuses is -1
    }
}
