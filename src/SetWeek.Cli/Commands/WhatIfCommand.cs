using System.ComponentModel;
using SetWeek.Cli.Input;
using SetWeek.Cli.Tables;
using SetWeek.Model.Files;
using SetWeek.Model.Json;
using SetWeek.Model.Problems;
using SetWeek.Planning.Replanning;
using SetWeek.Service.Trials;
using Spectre.Console;
using Spectre.Console.Cli;

namespace SetWeek.Cli.Commands;

/// <summary>The `what-if` command: changes tried on a week, and what would come of them.</summary>
internal sealed class WhatIfCommand : AsyncCommand<WhatIfCommand.Arguments>
{
    public sealed class Arguments : SearchArguments
    {
        // Brackets are doubled, for a single one begins a colour.
        [CommandArgument(1, "<CHANGES.json>"),
            Description("""A list of changes, as [[{"kind": "kit", "kit": "canopy", "eta": null}]] (docs/formats.md).""")]
        public string Changes { get; init; } = "";

        [CommandOption("--published <PLAN.json>"),
            Description("The plan that people have: the changed week is re-planned, and compared with it.")]
        public string? Published { get; init; }

        [CommandOption("--now <LOCAL>"), Description("With --published: the time in the store, as 2027-03-09T14:00.")]
        public string? Now { get; init; }

        [CommandOption("--progress <PROGRESS.json>"), Description("With --published: what the floor has reported.")]
        public string? Progress { get; init; }

        public override ValidationResult Validate() => base.Validate() is { Successful: false } wrong ? wrong
            : Published is null != Now is null ? ValidationResult.Error("Give --published and --now together, or neither.")
            : Progress is not null && Published is null
                ? ValidationResult.Error("--progress is of a published plan; give that too.")
            : Now is not null && ReplanInput.Time(Now) is null
                ? ValidationResult.Error("--now takes the time in the store, as 2027-03-09T14:00.")
            : ValidationResult.Success();
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Arguments given, CancellationToken cancelled)
    {
        if (InputFile.Read(given.Week, WeekFile.Read) is not { } week) return ExitCode.BadInput;
        var replan = given.Published is { } path
            ? ReplanInput.Read(week, path, ReplanInput.Time(given.Now)!.Value, given.Progress) : null;
        if (replan is null && given.Published is not null) return ExitCode.BadInput;
        if (InputFile.Read(given.Changes, json => JsonCursor.Read(json, Trial.Read)) is not { } trial) return ExitCode.BadInput;
        if (InputFile.ValueOrReport(given.Changes, trial.ApplyTo(week, replan)) is not { } changed) return ExitCode.BadInput;

        var answer = await Task.Run(() => WhatIf.Evaluate(week, changed, given.Limits, replan, cancelled), CancellationToken.None);
        var console = Terminal.Output();
        if (!given.Json)
            foreach (var sentence in trial.Sentences(week)) console.WriteLine($"Tried: {sentence}");
        return await PlanDelivery.Deliver(given, Problem.Of(changed, replan), answer.Plan, console,
            () => new DifferenceTables(console, changed).Print(answer.Difference));
    }
}
