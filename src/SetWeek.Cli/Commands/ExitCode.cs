namespace SetWeek.Cli.Commands;

/// <summary>What a command ends with. Scripts rely on these.</summary>
internal static class ExitCode
{
    public const int Done = 0, Failed = 1, BadInput = 2, NoPlanExists = 3, NoneFound = 4;
}
