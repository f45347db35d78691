using System.ComponentModel;
using SetWeek.Cli.Input;
using SetWeek.Cli.Tables;
using SetWeek.Model.Files;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk;
using SetWeek.Planning.Risk.Distributions;
using SetWeek.Service.Json;
using SetWeek.Service.Words;
using Spectre.Console;
using Spectre.Console.Cli;

namespace SetWeek.Cli.Commands;

/// <summary>The `risk` command: how likely a plan is to hold, what drives that, and what would help.</summary>
internal sealed class RiskCommand : AsyncCommand<RiskCommand.Arguments>
{
    public sealed class Arguments : CommandSettings
    {
        [CommandArgument(0, "<WEEK.json>"), Description("The week file.")]
        public string Week { get; init; } = "";

        [CommandArgument(1, "<PLAN.json>"), Description("A plan of it that keeps the rules; with --now the published one.")]
        public string Plan { get; init; } = "";

        [CommandOption("--runs <N>"), Description("How often the week is worked through; 10000 unless given.")]
        public int Runs { get; init; } = RiskOptions.DefaultRuns;

        [CommandOption("--seed <N>"), Description("Another seed, other luck; 0 unless given.")]
        public int Seed { get; init; }

        [CommandOption("--spreading <NAME>")]
        [Description("How chance lies between the three points: beta (unless given) or triangular.")]
        public string Spreading { get; init; } = "beta";

        [CommandOption("--spread <A-B>")]
        [Description("For tasks without an estimate: percent at best and at worst, as 80-160. Unless given they are certain.")]
        public string? Spread { get; init; }

        [CommandOption("--grace <MINUTES>")]
        [Description("Work that may end so much later than the rules allow is begun, rather than put off; 0 unless given.")]
        public int Grace { get; init; }

        [CommandOption("--now <LOCAL>"), Description("In the middle of the week: the time in the store, as 2027-03-09T14:00.")]
        public string? Now { get; init; }

        [CommandOption("--progress <PROGRESS.json>"), Description("With --now: what the floor has reported.")]
        public string? Progress { get; init; }

        [CommandOption("--only-chances"), Description("Do not look for what would help.")]
        public bool OnlyChances { get; init; }

        [CommandOption("--seconds <S>"), Description("How long to look for what would help; 2.5 unless given.")]
        public double Seconds { get; init; } = MitigationSearch.DefaultTime.TotalSeconds;

        [CommandOption("--json"), Description("Print JSON instead of tables.")]
        public bool Json { get; init; }

        public RiskOptions Options => new()
        {
            Runs = Runs, Seed = Seed, GraceMinutes = Grace,
            Distribution = RiskParameters.Spreading(Spreading)!.Value,
            DefaultSpread = Spread is null ? null : RiskParameters.Spread(Spread),
        };

        public override ValidationResult Validate() =>
            Runs is < 1 or > RiskOptions.MaxRuns
                ? ValidationResult.Error($"--runs takes a whole number from 1 to {RiskOptions.MaxRuns}.")
            : Seed < 0 ? ValidationResult.Error("--seed takes a whole number from 0.")
            : Grace is < 0 or > RiskOptions.MaxGraceMinutes
                ? ValidationResult.Error($"--grace takes a whole number from 0 to {RiskOptions.MaxGraceMinutes}.")
            : RiskParameters.Spreading(Spreading) is null ? ValidationResult.Error("--spreading takes beta or triangular.")
            : Spread is not null && RiskParameters.Spread(Spread) is null
                ? ValidationResult.Error(RiskParameters.SpreadForm("--spread"))
            : Seconds is <= 0 or > 86400 or double.NaN
                ? ValidationResult.Error("--seconds takes a number above 0, at most 86400.")
            : Now is not null && ReplanInput.Time(Now) is null
                ? ValidationResult.Error("--now takes the time in the store, as 2027-03-09T14:00.")
            : Progress is not null && Now is null ? ValidationResult.Error("--progress is of a time; give --now too.")
            : ValidationResult.Success();
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Arguments given, CancellationToken cancelled)
    {
        if (InputFile.Read(given.Week, WeekFile.Read) is not { } week) return ExitCode.BadInput;
        if (ReadPlan(given, week) is not ({ } problem, { } schedule)) return ExitCode.BadInput;
        if (await BrokenPlan.Report(problem, schedule, "how it would go")) return ExitCode.Failed;
        var report = RiskSimulation.Of(problem, schedule, given.Options, cancelled);
        if (!given.OnlyChances)
            report = report with
            {
                Helps = MitigationSearch.Of(problem, schedule, given.Options, report,
                    time: TimeSpan.FromSeconds(given.Seconds), stop: cancelled),
            };
        if (given.Json)
        {
            await using var output = Console.OpenStandardOutput();
            await output.WriteAsync(JsonFormat.Bytes(report));
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
