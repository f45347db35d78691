namespace SetWeek.Cli.Commands;

/// <summary>The exit codes of the commands. Scripts rely on them, so their values never change.</summary>
internal static class ExitCode
{
    public const int Done = 0, Failed = 1, BadInput = 2, NoPlanExists = 3, NoneFound = 4, RulesBroken = 5;
}
