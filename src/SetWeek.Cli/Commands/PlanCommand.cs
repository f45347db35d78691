using SetWeek.Cli.Input;
using SetWeek.Cli.Tables;
using SetWeek.Model.Files;
using SetWeek.Model.Problems;
using Spectre.Console.Cli;

namespace SetWeek.Cli.Commands;

/// <summary>The `plan` command: plans a week file. It needs no database.</summary>
internal sealed class PlanCommand : AsyncCommand<PlanCommand.Arguments>
{
    public sealed class Arguments : SearchArguments;

    public override async Task<int> ExecuteAsync(CommandContext context, Arguments given, CancellationToken cancelled)
    {
        if (InputFile.Read(given.Week, WeekFile.Read) is not { } week) return ExitCode.BadInput;
        var plan = await SearchDisplay.Plan(week, given.Limits, null, cancelled);
        return await PlanDelivery.Deliver(given, Problem.Of(week), plan, Terminal.Output(), () => { });
    }
}
