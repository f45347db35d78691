using SetWeek.Cli.Tables;
using SetWeek.Model.Checking;
using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Planning.Risk;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Planning.Search;
using SetWeek.Service.Words;
using Spectre.Console;

namespace SetWeek.Cli.Commands;

/// <summary>Checks the planner's result once more, then writes and prints it.</summary>
internal static class PlanDelivery
{
    /// <param name="more">Prints what follows the plan's tables; not called with --json or without a plan.</param>
    public static async Task<int> Deliver(SearchArguments given, Problem problem, Plan plan, IAnsiConsole console, Action more)
    {
        var tables = new PlanTables(console, problem.Week);
        if (plan.Status is PlanStatus.Infeasible or PlanStatus.Unknown)
        {
            var unknown = plan.Status == PlanStatus.Unknown;
            if (given.Json) await Print(plan);
            else tables.WithoutPlan(plan);
            await Console.Error.WriteLineAsync(unknown
                ? "No plan was found in the time given. Try again with more --seconds."
                : "No plan exists: the requirements contradict each other.");
            return unknown ? ExitCode.NoneFound : ExitCode.NoPlanExists;
        }
        if (Checker.Check(problem, PlanConverter.ScheduleOf(problem, plan)) is { Count: > 0 } breaches)
        {
            await Console.Error.WriteLineAsync(
                "The planner returned a plan that breaks rules. This is a bug in SetWeek. The plan was not written:");
            foreach (var breach in breaches) await Console.Error.WriteLineAsync($"  {breach.Rule.Text()}: {breach.Sentence}");
            return ExitCode.Failed;
        }
        if (given.Out is { } path) await Write(path, PlanFile.Write(plan));
        if (given.Json) await Print(plan);
        else
        {
            tables.Print(plan);
            console.WriteLine();
            PrintChance(given, problem, PlanConverter.ScheduleOf(problem, plan), console);
            more();
        }
        return ExitCode.Done;
    }

    /// <summary>The chance and, where something is left half-secured too often, what would help.</summary>
    private static void PrintChance(SearchArguments given, Problem problem, Schedule schedule, IAnsiConsole console)
    {
        var chance = HoldChance.Of(problem, schedule);
        foreach (var sentence in new ChanceSentences(problem.Week).Of(chance)) console.WriteLine(sentence);
        var limits = given.Effort is null ? MitigationSearch.DefaultLimits
            : new SearchLimits { Effort = MitigationSearch.DefaultLimits.Time.TotalSeconds, Workers = 1 };
        if (MitigationSearch.Securing(problem, schedule, chance, limits) is { } advice)
            console.WriteLine(new RiskSentences(problem.Week).Secures(advice));
    }

    private static async Task Print(Plan plan)
    {
        await using var output = Console.OpenStandardOutput();
        await output.WriteAsync(PlanFile.Write(plan));
    }

    /// <summary>Writes to a temporary file beside the target, then renames it: the target never holds half a plan.</summary>
    private static async Task Write(string path, byte[] bytes)
    {
        var temporary = $"{path}.{Environment.ProcessId}.part";
        try
        {
            await File.WriteAllBytesAsync(temporary, bytes);
            File.Move(temporary, path, overwrite: true);
        }
        finally
        {
            File.Delete(temporary);
        }
    }
}
