using SetWeek.Cli.Tables;
using SetWeek.Model.Checking;
using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using Spectre.Console;

namespace SetWeek.Cli.Commands;

/// <summary>What becomes of a plan once the planner has stopped: checked again, written, shown.</summary>
internal static class PlanDelivery
{
    /// <param name="more">What else to show people where there is a plan.</param>
    public static async Task<int> Deliver(SearchArguments given, Problem problem, Plan plan, IAnsiConsole console, Action more)
    {
        var tables = new PlanTables(console, problem.Week);
        if (plan.Status is PlanStatus.Infeasible or PlanStatus.Unknown)
        {
            var unknown = plan.Status == PlanStatus.Unknown;
            if (given.Json) await Print(plan);
            else tables.WithoutPlan(plan);
            await Console.Error.WriteLineAsync(unknown
                ? "No plan was found in the time given; give more --seconds."
                : "No plan exists: the requirements contradict one another.");
            return unknown ? ExitCode.NoneFound : ExitCode.NoPlanExists;
        }
        if (Checker.Check(problem, PlanConverter.ScheduleOf(problem, plan)) is { Count: > 0 } breaches)
        {
            await Console.Error.WriteLineAsync("The planner's plan breaks rules, which is a mistake of ours; it is not written:");
            foreach (var breach in breaches) await Console.Error.WriteLineAsync($"  {breach.Rule.Text()}: {breach.Sentence}");
            return ExitCode.Failed;
        }
        if (given.Out is { } path) await Write(path, PlanFile.Write(plan));
        if (given.Json) await Print(plan);
        else
        {
            tables.Print(plan);
            more();
        }
        return ExitCode.Done;
    }

    private static async Task Print(Plan plan)
    {
        await using var output = Console.OpenStandardOutput();
        await output.WriteAsync(PlanFile.Write(plan));
    }

    /// <summary>Beside its place first, so that there is never half a plan there.</summary>
    private static async Task Write(string path, byte[] bytes)
    {
        var beside = $"{path}.{Environment.ProcessId}.part";
        try
        {
            await File.WriteAllBytesAsync(beside, bytes);
            File.Move(beside, path, overwrite: true);
        }
        finally
        {
            File.Delete(beside);
        }
    }
}
