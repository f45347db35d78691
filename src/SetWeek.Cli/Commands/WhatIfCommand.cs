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

/// <summary>The `what-if` command: plans a week with trial changes and compares it with the unchanged week.</summary>
internal sealed class WhatIfCommand : AsyncCommand<WhatIfCommand.Arguments>
{
    public sealed class Arguments : SearchArguments
    {
        // Brackets are doubled because the help text is markup, where a single one opens a colour.
        [CommandArgument(1, "<CHANGES.json>"),
            Description("A list of changes, for example "
                + """[[{"kind": "kit", "kit": "canopy", "eta": null}]] (docs/formats.md).""")]
        public string Changes { get; init; } = "";

        [CommandOption("--published <PLAN.json>"),
            Description("The published plan: the changed week is re-planned, and the result compared with this plan.")]
        public string? Published { get; init; }

        [CommandOption("--now <LOCAL>"),
            Description("With --published: the local time in the store, for example 2027-03-09T14:00.")]
        public string? Now { get; init; }

        [CommandOption("--progress <PROGRESS.json>"), Description("With --published: the work reported so far.")]
        public string? Progress { get; init; }

        protected override string? Fault() => base.Fault() ?? ReplanInput.Fault(Published, Now, Progress);
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Arguments given, CancellationToken cancelled)
    {
        if (InputFile.Read(given.Week, WeekFile.Read) is not { } week) return ExitCode.BadInput;
        var replan = given.Published is { } path
            ? ReplanInput.Read(week, path, ReplanInput.Time(given.Now)!.Value, given.Progress) : null;
        if (replan is null && given.Published is not null) return ExitCode.BadInput;
        if (InputFile.Read(given.Changes, json => JsonCursor.Read(json, Trial.Read)) is not { } trial) return ExitCode.BadInput;
        if (InputFile.ValueOrReport(given.Changes, trial.ApplyTo(week, replan)) is not { } changed) return ExitCode.BadInput;

        var answer = await Task.Run(
            () => WhatIf.Evaluate(week, changed, given.Limits, replan, cancelled), CancellationToken.None);
        var console = Terminal.Output();
        if (!given.Json)
            foreach (var sentence in trial.Sentences(week)) console.WriteLine($"Tried: {sentence}");
        return await PlanDelivery.Deliver(given, Problem.Of(changed, replan), answer.Plan, console,
            () => new DifferenceTables(console, changed).Print(answer.Difference));
    }
}
