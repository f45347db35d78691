using SetWeek.Cli.Input;
using SetWeek.Cli.Tables;
using SetWeek.Scheduling.Files;
using Spectre.Console.Cli;

namespace SetWeek.Cli.Commands;

using Problem = SetWeek.Scheduling.Problem;

/// <summary>The `plan` command: a plan for a week file, without a database.</summary>
internal sealed class PlanCommand : AsyncCommand<PlanCommand.Given>
{
    public sealed class Given : SolveSettings;

    public override async Task<int> ExecuteAsync(CommandContext context, Given given, CancellationToken cancelled)
    {
        if (InputFile.Read(given.Week, WeekFile.Read) is not { } week) return Exit.BadInput;
        var plan = await Solving.Plan(week, given.Limits, null, cancelled);
        return await PlanDelivery.Deliver(given, Problem.Of(week), plan, Paper.Out(), () => { });
    }
}
