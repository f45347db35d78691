using System.ComponentModel;
using SetWeek.Cli.Input;
using SetWeek.Cli.Tables;
using SetWeek.Model.Durations;
using SetWeek.Model.Files;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk;
using SetWeek.Planning.Search;
using SetWeek.Service.Json;
using SetWeek.Service.Words;
using Spectre.Console;
using Spectre.Console.Cli;

namespace SetWeek.Cli.Commands;

/// <summary>The `risk` command: estimates by simulation how likely a plan is to be ready by launch.</summary>
internal sealed class RiskCommand : AsyncCommand<RiskCommand.Arguments>
{
    public sealed class Arguments : CommandSettings
    {
        [CommandArgument(0, "<WEEK.json>"), Description("The week file.")]
        public string Week { get; init; } = "";

        [CommandArgument(1, "<PLAN.json>"),
            Description("A plan of that week that keeps the rules; with --now, the published plan.")]
        public string Plan { get; init; } = "";

        [CommandOption("--runs <N>"), Description("Number of simulated weeks; default: 10000.")]
        public NumberOption? Runs { get; init; }

        [CommandOption("--seed <N>"), Description("Seed of the random durations; default: 0.")]
        public NumberOption? Seed { get; init; }

        [CommandOption("--spreading <NAME>")]
        [Description("Distribution of a duration over its three-point estimate: beta (default) or triangular.")]
        public string Spreading { get; init; } = "beta";

        [CommandOption("--spread <A-B>")]
        [Description("Shortest and longest duration, in percent of the planned one, of tasks without an estimate; "
            + "for example 80-160. Default: these tasks take exactly as long as planned.")]
        public string? Spread { get; init; }

        [CommandOption("--grace <MINUTES>")]
        [Description("Start work even if it is expected to end up to this many minutes later than the rules allow; default: 0.")]
        public NumberOption? Grace { get; init; }

        [CommandOption("--now <LOCAL>"),
            Description("In the middle of the week: the local time in the store, for example 2027-03-09T14:00.")]
        public string? Now { get; init; }

        [CommandOption("--progress <PROGRESS.json>"), Description("With --now: the work reported so far.")]
        public string? Progress { get; init; }

        [CommandOption("--only-chances"), Description("Do not search for changes that would help.")]
        public bool OnlyChances { get; init; }

        [CommandOption("--seconds <S>")]
        [Description("How long to search for changes that would help, each with a new plan; default: 6.")]
        public NumberOption? Seconds { get; init; }

        [CommandOption("--effort <N>")]
        [Description("In place of --seconds: work limit of that search; the same effort and seed give the same result.")]
        public NumberOption? Effort { get; init; }

        public SearchLimits Limits => Effort is not null ? new SearchLimits { Effort = Effort.Number, Workers = 1 }
            : Seconds is not null ? new SearchLimits { Time = TimeSpan.FromSeconds(Seconds.Number) }
            : MitigationSearch.DefaultLimits;

        [CommandOption("--json"), Description("Print JSON instead of tables.")]
        public bool Json { get; init; }

        public RiskOptions Options => new()
        {
            Runs = Runs?.Whole ?? RiskOptions.DefaultRuns, Seed = Seed?.Whole ?? 0, GraceMinutes = Grace?.Whole ?? 0,
            Distribution = RiskParameters.Spreading(Spreading)!.Value,
            DefaultSpread = Spread is null ? null : RiskParameters.Spread(Spread),
        };

        public override ValidationResult Validate() =>
            Fault() is { } fault ? ValidationResult.Error(fault) : ValidationResult.Success();

        private string? Fault() => NumberOption.WholeFault("--runs", Runs, 1, RiskOptions.MaxRuns, RiskOptions.DefaultRuns)
            ?? NumberOption.WholeFault("--seed", Seed, 0, int.MaxValue, 1)
            ?? NumberOption.WholeFault("--grace", Grace, 0, RiskOptions.MaxGraceMinutes, 15)
            ?? NumberOption.Fault("--seconds", Seconds, SearchArguments.MostSeconds, 10)
            ?? NumberOption.Fault("--effort", Effort, SearchArguments.MostSeconds, 5)
            ?? (Seconds is not null && Effort is not null ? "Give --seconds or --effort, not both." : null)
            ?? (RiskParameters.Spreading(Spreading) is null ? "--spreading needs beta or triangular." : null)
            ?? (Spread is not null && RiskParameters.Spread(Spread) is null ? RiskParameters.SpreadForm("--spread") : null)
            ?? ReplanInput.TimeFault(Now)
            ?? (Progress is not null && Now is null ? "--progress needs --now." : null);
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Arguments given, CancellationToken cancelled)
    {
        if (InputFile.Read(given.Week, WeekFile.Read) is not { } week) return ExitCode.BadInput;
        if (ReadPlan(given, week) is not ({ } problem, { } schedule)) return ExitCode.BadInput;
        if (await BrokenPlan.Report(problem, schedule, "its risk cannot be estimated")) return ExitCode.Failed;
        var report = RiskSimulation.Of(problem, schedule, given.Options, cancelled);
        if (!given.OnlyChances)
            report = report with
            {
                Helps = MitigationSearch.Of(problem, schedule, given.Options, report, given.Limits, cancelled),
            };
        if (given.Json)
        {
            await using var output = Console.OpenStandardOutput();
            await output.WriteAsync(JsonFormat.Bytes(report), cancelled);
        }
        else new RiskTables(Terminal.Output(), week).Print(report);
        return ExitCode.Done;
    }

    private static (Problem? Problem, Schedule? Schedule) ReadPlan(Arguments given, Week week)
    {
        if (ReplanInput.Time(given.Now) is { } now)
        {
            if (ReplanInput.Read(week, given.Plan, now, given.Progress) is not { } replan) return default;
            var later = Problem.Of(week, replan);
            return (later, later.Facts!.PublishedWithActuals);
        }
        if (InputFile.Read(given.Plan, json => PlanFile.Read(json, week)) is not { } plan) return default;
        var problem = Problem.Of(week);
        return (problem, PlanConverter.ScheduleOf(problem, plan));
    }
}
