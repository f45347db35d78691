using System.ComponentModel;
using SetWeek.Cli.Input;
using SetWeek.Planning.Search;
using Spectre.Console;
using Spectre.Console.Cli;

namespace SetWeek.Cli.Commands;

/// <summary>The options that plan, replan and what-if share.</summary>
internal abstract class SearchArguments : CommandSettings
{
    [CommandArgument(0, "<WEEK.json>"), Description("The week file.")]
    public string Week { get; init; } = "";

    [CommandOption("--out <PLAN.json>"),
        Description("File to write the plan to. It is written only if the plan keeps every rule.")]
    public string? Out { get; init; }

    [CommandOption("--seconds <S>"), Description("Time limit of the search; default: 10.")]
    public NumberOption? Seconds { get; init; }

    [CommandOption("--effort <N>")]
    [Description(
        "Work limit of the search, independent of the clock: the same effort and seed give the same plan, byte for byte.")]
    public NumberOption? Effort { get; init; }

    [CommandOption("--workers <N>"), Description("Solver threads; default: 2, or 1 with --effort.")]
    public NumberOption? Workers { get; init; }

    [CommandOption("--seed <N>"), Description("Seed of the search; default: 0.")]
    public NumberOption? Seed { get; init; }

    [CommandOption("--json"), Description("Print the plan file instead of tables.")]
    public bool Json { get; init; }

    public SearchLimits Limits => new()
    {
        Time = TimeSpan.FromSeconds(Seconds?.Number ?? 10),
        Effort = Effort?.Number,
        Workers = Workers?.Whole ?? (Effort is null ? 2 : 1),
        Seed = Seed?.Whole ?? 0,
    };

    /// <summary>A day.</summary>
    public const int MostSeconds = 86_400;

    public sealed override ValidationResult Validate() =>
        Fault() is { } fault ? ValidationResult.Error(fault) : ValidationResult.Success();

    /// <summary>The first thing wrong with the options, as a sentence; null if they are valid.</summary>
    protected virtual string? Fault() =>
        NumberOption.Fault("--seconds", Seconds, MostSeconds, 10)
        ?? NumberOption.Fault("--effort", Effort, MostSeconds, 2)
        ?? NumberOption.WholeFault("--workers", Workers, 1, 64, 2)
        ?? NumberOption.WholeFault("--seed", Seed, 0, int.MaxValue, 1)
        ?? (Seconds is not null && Effort is not null ? "Give --seconds or --effort, not both." : null)
        ?? (Out is { } path && !Directory.Exists(Path.GetDirectoryName(Path.GetFullPath(path)))
            ? "--out names a folder that does not exist." : null);
}
