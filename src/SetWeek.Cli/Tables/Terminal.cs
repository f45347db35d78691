using Spectre.Console;

namespace SetWeek.Cli.Tables;

/// <summary>Standard output to put tables on: as wide as the terminal, or wide enough where it goes into a file.</summary>
internal static class Terminal
{
    private const int Columns = 120;

    public static IAnsiConsole Output()
    {
        if (Console.IsOutputRedirected) AnsiConsole.Console.Profile.Width = Columns;
        return AnsiConsole.Console;
    }
}
