using Spectre.Console;

namespace SetWeek.Cli.Tables;

/// <summary>Standard output for tables: as wide as the terminal, or 120 columns when it is redirected.</summary>
internal static class Terminal
{
    private const int Columns = 120;

    public static IAnsiConsole Output()
    {
        if (Console.IsOutputRedirected) AnsiConsole.Console.Profile.Width = Columns;
        return AnsiConsole.Console;
    }
}
