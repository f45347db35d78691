using System.ComponentModel;
using SetWeek.Cli.Input;
using SetWeek.Cli.Tables;
using SetWeek.Model.Checking;
using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using Spectre.Console;
using Spectre.Console.Cli;

namespace SetWeek.Cli.Commands;

/// <summary>The `check` command: every rule that a plan breaks, and everything that it says of itself and is not so.</summary>
internal sealed class CheckCommand : Command<CheckCommand.Arguments>
{
    public sealed class Arguments : CommandSettings
    {
        [CommandArgument(0, "<WEEK.json>"), Description("The week file.")]
        public string Week { get; init; } = "";

        [CommandArgument(1, "<PLAN.json>"), Description("A plan of it, from wherever.")]
        public string Plan { get; init; } = "";

        [CommandOption("--published <PLAN.json>"), Description("Where the plan is a re-plan: the one that people had before it.")]
        public string? Published { get; init; }

        [CommandOption("--now <LOCAL>"),
            Description("With --published: the time in the store that it was made for, as 2027-03-09T14:00.")]
        public string? Now { get; init; }

        [CommandOption("--progress <PROGRESS.json>"), Description("With --published: what the floor had reported.")]
        public string? Progress { get; init; }

        public override ValidationResult Validate() =>
            Published is null != Now is null ? ValidationResult.Error("Give --published and --now together.")
            : Now is not null && ReplanInput.Time(Now) is null
                ? ValidationResult.Error("--now takes the time in the store, as 2027-03-09T14:00.")
            : Progress is not null && Published is null ? ValidationResult.Error("--progress goes with --published and --now.")
            : ValidationResult.Success();
    }

    public override int Execute(CommandContext context, Arguments given, CancellationToken cancelled)
    {
        if (InputFile.Read(given.Week, WeekFile.Read) is not { } week) return ExitCode.BadInput;
        if (InputFile.Read(given.Plan, json => PlanFile.Read(json, week)) is not { } plan) return ExitCode.BadInput;
        Replan? replan = null;
        if (given.Published is { } published)
        {
            replan = ReplanInput.Read(week, published, ReplanInput.Time(given.Now!)!.Value, given.Progress);
            if (replan is null) return ExitCode.BadInput;
        }
        var problem = Problem.Of(week, replan);
        string[] found =
        [
            .. Checker.Check(problem, PlanConverter.ScheduleOf(problem, plan)).Select(breach => $"{breach.Rule.Text()}: {breach.Sentence}"),
            .. PlanAudit.Discrepancies(problem, plan),
        ];
        var console = Terminal.Output();
        foreach (var sentence in found) console.WriteLine(sentence);
        console.WriteLine(found.Length switch
        {
            0 => "The plan keeps every rule, and what it says of itself is so.",
            1 => "One thing is wrong.",
            var many => $"{many} things are wrong.",
        });
        if (found.Length == 0) new PlanTables(console, week).Goals(plan);
        return found.Length == 0 ? ExitCode.Done : ExitCode.Failed;
    }
}
