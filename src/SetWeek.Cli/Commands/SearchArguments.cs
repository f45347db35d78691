using System.ComponentModel;
using SetWeek.Planning.Search;
using Spectre.Console;
using Spectre.Console.Cli;

namespace SetWeek.Cli.Commands;

/// <summary>The options that plan and replan share.</summary>
internal abstract class SearchArguments : CommandSettings
{
    [CommandArgument(0, "<WEEK.json>"), Description("The week file.")]
    public string Week { get; init; } = "";

    [CommandOption("--out <PLAN.json>"), Description("Where to write the plan file; written only if the plan keeps every rule.")]
    public string? Out { get; init; }

    [CommandOption("--seconds <S>"), Description("How long to look; 10 unless given.")]
    public double? Seconds { get; init; }

    [CommandOption("--effort <N>")]
    [Description("How much to look, in units that do not depend on the clock: with the same seed the same plan, byte for byte.")]
    public double? Effort { get; init; }

    [CommandOption("--workers <N>"), Description("Threads of the solver; 2 unless given, 1 with --effort.")]
    public int? Workers { get; init; }

    [CommandOption("--seed <N>"), Description("Another seed, another way of looking; 0 unless given.")]
    public int Seed { get; init; }

    [CommandOption("--json"), Description("Print the plan file instead of tables.")]
    public bool Json { get; init; }

    public SearchLimits Limits => new()
    {
        Time = TimeSpan.FromSeconds(Seconds ?? 10),
        Effort = Effort,
        Workers = Workers ?? (Effort is null ? 2 : 1),
        Seed = Seed,
    };

    public override ValidationResult Validate() =>
        Seconds is not null && Effort is not null ? ValidationResult.Error("Give --seconds or --effort, not both.")
        : Seconds is <= 0 or > 86400 or double.NaN ? ValidationResult.Error("--seconds takes a number above 0, at most 86400.")
        : Effort is <= 0 or > 86400 or double.NaN ? ValidationResult.Error("--effort takes a number above 0, at most 86400.")
        : Workers is < 1 or > 64 ? ValidationResult.Error("--workers takes a whole number from 1 to 64.")
        : Seed < 0 ? ValidationResult.Error("--seed takes a whole number from 0.")
        : Out is { } path && !Directory.Exists(Path.GetDirectoryName(Path.GetFullPath(path)))
            ? ValidationResult.Error("--out names a folder that is not there.")
        : ValidationResult.Success();
}
