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

/// <summary>The `why` command: explains why a task is not planned earlier, and who else could do it.</summary>
internal sealed class WhyCommand : AsyncCommand<WhyCommand.Arguments>
{
    public sealed class Arguments : CommandSettings
    {
        [CommandArgument(0, "<WEEK.json>"), Description("The week file.")]
        public string Week { get; init; } = "";

        [CommandArgument(1, "<PLAN.json>"), Description("A plan of that week.")]
        public string Plan { get; init; } = "";

        [CommandArgument(2, "<TASK>"), Description("The id of a task.")]
        public string Task { get; init; } = "";

        [CommandOption("--stint <N>"), Description("The part of the task, counted from 1; default: 1.")]
        public NumberOption? Stint { get; init; }

        [CommandOption("--published <PLAN.json>"), Description("For a re-plan: the plan that was published before it.")]
        public string? Published { get; init; }

        [CommandOption("--now <LOCAL>"),
            Description("With --published: the local time in the store, for example 2027-03-09T14:00.")]
        public string? Now { get; init; }

        [CommandOption("--progress <PROGRESS.json>"), Description("With --published: the work reported so far.")]
        public string? Progress { get; init; }

        [CommandOption("--seconds <S>"), Description("How long to search; default: 5.")]
        public NumberOption? Seconds { get; init; }

        [CommandOption("--json"), Description("Print the answer as JSON instead of sentences.")]
        public bool Json { get; init; }

        public int StintNumber => Stint?.Whole ?? 1;

        public override ValidationResult Validate() =>
            (NumberOption.WholeFault("--stint", Stint, 1, WeekLimits.Stints, 2)
                ?? NumberOption.Fault("--seconds", Seconds, SearchArguments.MostSeconds, 10)
                ?? ReplanInput.Fault(Published, Now, Progress)) is { } fault
                ? ValidationResult.Error(fault) : ValidationResult.Success();
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
        if (await BrokenPlan.Report(problem, PlanConverter.ScheduleOf(problem, plan), "it cannot be explained"))
            return ExitCode.Failed;
        var limits = new SearchLimits { Time = TimeSpan.FromSeconds(given.Seconds?.Number ?? 5), Workers = 1 };
        if (Why.Of(problem, plan, given.Task, given.StintNumber, limits, cancelled) is not { } why)
        {
            await Console.Error.WriteLineAsync(
                $"The plan does not contain the task {given.Task}: its display is left out or replaced.");
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
        week.Tasks.FirstOrDefault(task => task.Id == given.Task) is not { } task
            ? $"The week has no task \"{given.Task}\". Give the id of a task in the week file."
        : given.StintNumber <= task.Stints ? null
        : $"The task {given.Task} has {(task.Stints == 1 ? "1 part" : $"{task.Stints} parts")}; "
            + $"--stint {given.StintNumber} is too high.";
}
