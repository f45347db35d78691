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

/// <summary>The `check` command: prints every rule that a plan breaks, and every figure in its file that is wrong.</summary>
internal sealed class CheckCommand : Command<CheckCommand.Arguments>
{
    public sealed class Arguments : CommandSettings
    {
        [CommandArgument(0, "<WEEK.json>"), Description("The week file.")]
        public string Week { get; init; } = "";

        [CommandArgument(1, "<PLAN.json>"), Description("A plan of that week, from any source.")]
        public string Plan { get; init; } = "";

        [CommandOption("--published <PLAN.json>"), Description("For a re-plan: the plan that was published before it.")]
        public string? Published { get; init; }

        [CommandOption("--now <LOCAL>"),
            Description("With --published: the local time in the store for which the re-plan was made, "
                + "for example 2027-03-09T14:00.")]
        public string? Now { get; init; }

        [CommandOption("--progress <PROGRESS.json>"), Description("With --published: the work that had been reported.")]
        public string? Progress { get; init; }

        public override ValidationResult Validate() =>
            ReplanInput.Fault(Published, Now, Progress) is { } fault ? ValidationResult.Error(fault) : ValidationResult.Success();
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
        var breaches = Checker.Check(problem, PlanConverter.ScheduleOf(problem, plan));
        string[] faults =
        [
            .. breaches.Select(breach => $"{breach.Rule.Text()}: {breach.Sentence}"), .. PlanAudit.Discrepancies(problem, plan),
        ];
        var console = Terminal.Output();
        foreach (var sentence in faults) console.WriteLine(sentence);
        console.WriteLine(faults.Length switch
        {
            0 => "The plan keeps every rule, and the figures in its file are correct.",
            1 => "The plan has 1 fault.",
            var count => $"The plan has {count} faults.",
        });
        if (faults.Length == 0) new PlanTables(console, week).Goals(plan);
        return breaches.Count > 0 ? ExitCode.RulesBroken : faults.Length == 0 ? ExitCode.Done : ExitCode.Failed;
    }
}
