using System.ComponentModel;
using SetWeek.Cli.Input;
using SetWeek.Cli.Tables;
using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Reasons;
using SetWeek.Planning.Search;
using SetWeek.Service.Json;
using Spectre.Console;
using Spectre.Console.Cli;

namespace SetWeek.Cli.Commands;

/// <summary>The `why` command: what holds a task where a plan has it, and who else could be on it.</summary>
internal sealed class WhyCommand : AsyncCommand<WhyCommand.Arguments>
{
    public sealed class Arguments : CommandSettings
    {
        [CommandArgument(0, "<WEEK.json>"), Description("The week file.")]
        public string Week { get; init; } = "";

        [CommandArgument(1, "<PLAN.json>"), Description("A plan of it.")]
        public string Plan { get; init; } = "";

        [CommandArgument(2, "<TASK>"), Description("The id of a task.")]
        public string Task { get; init; } = "";

        [CommandOption("--stint <N>"), Description("Which part of the task; 1 unless given.")]
        public int Stint { get; init; } = 1;

        [CommandOption("--published <PLAN.json>"), Description("Where the plan is a re-plan: the one that people had before it.")]
        public string? Published { get; init; }

        [CommandOption("--now <LOCAL>"), Description("With --published: the time in the store, as 2027-03-09T14:00.")]
        public string? Now { get; init; }

        [CommandOption("--progress <PROGRESS.json>"), Description("With --published: what the floor has reported.")]
        public string? Progress { get; init; }

        [CommandOption("--seconds <S>"), Description("How long to look; 5 unless given.")]
        public double Seconds { get; init; } = 5;

        [CommandOption("--json"), Description("Print the answer as JSON instead of sentences.")]
        public bool Json { get; init; }

        public override ValidationResult Validate() =>
            Stint < 1 ? ValidationResult.Error("--stint takes a whole number from 1.")
            : Seconds is <= 0 or > 86400 or double.NaN
                ? ValidationResult.Error("--seconds takes a number above 0, at most 86400.")
            : Published is null != Now is null ? ValidationResult.Error("Give --published and --now together.")
            : Now is not null && ReplanInput.Time(Now) is null
                ? ValidationResult.Error("--now takes the time in the store, as 2027-03-09T14:00.")
            : Progress is not null && Published is null ? ValidationResult.Error("--progress goes with --published and --now.")
            : ValidationResult.Success();
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Arguments given, CancellationToken cancelled)
    {
        if (InputFile.Read(given.Week, WeekFile.Read) is not { } week) return ExitCode.BadInput;
        if (InputFile.Read(given.Plan, json => PlanFile.Read(json, week)) is not { } plan) return ExitCode.BadInput;
        Replan? replan = null;
        if (given.Published is { } path)
        {
            replan = ReplanInput.Read(week, path, ReplanInput.Time(given.Now)!.Value, given.Progress);
            if (replan is null) return ExitCode.BadInput;
        }
        var problem = Problem.Of(week, replan);
        if (Fault(week, given) is { } fault)
        {
            await Console.Error.WriteLineAsync(fault);
            return ExitCode.BadInput;
        }
        if (await BrokenPlan.Report(problem, PlanConverter.ScheduleOf(problem, plan), "why it is so")) return ExitCode.Failed;
        var limits = new SearchLimits { Time = TimeSpan.FromSeconds(given.Seconds), Workers = 1 };
        if (Why.Of(problem, plan, given.Task, given.Stint, limits, cancelled) is not { } why)
        {
            await Console.Error.WriteLineAsync($"The plan does not have {given.Task}: its display is left out or replaced.");
            return ExitCode.Failed;
        }
        if (given.Json)
        {
            await using var output = Console.OpenStandardOutput();
            await output.WriteAsync(JsonFormat.Bytes(why), cancelled);
        }
        else new WhyTables(Terminal.Output(), week).Print(why);
        return ExitCode.Done;
    }

    private static string? Fault(Week week, Arguments given) =>
        week.Tasks.FirstOrDefault(task => task.Id == given.Task) is not { } task ? $"The week has no task {given.Task}."
        : given.Stint <= task.Stints ? null
        : $"{given.Task} has {(task.Stints == 1 ? "one part" : $"{task.Stints} parts")}; --stint {given.Stint} is none of them.";
}
