using System.ComponentModel;
using SetWeek.Cli.Input;
using SetWeek.Cli.Tables;
using SetWeek.Model.Files;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Certainty;
using Spectre.Console.Cli;

namespace SetWeek.Cli.Commands;

/// <summary>The `plan` command: plans a week file. It needs no database.</summary>
internal sealed class PlanCommand : AsyncCommand<PlanCommand.Arguments>
{
    public sealed class Arguments : SearchArguments
    {
        [CommandOption("--chance <PERCENT>")]
        [Description("Chance to hold that the plan is made for, in place of the week's own.")]
        public NumberOption? Chance { get; init; }

        [CommandOption("--certainty"), Description("Show what certainty costs: plans from the cheapest to the surest.")]
        public bool Certainty { get; init; }

        protected override string? Fault() => base.Fault() ?? NumberOption.WholeFault("--chance", Chance, 0, 100, 95)
            ?? (Certainty && (Out is not null || Json || Chance is not null)
                ? "--certainty shows several plans; leave out --out, --json and --chance." : null);
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Arguments given, CancellationToken cancelled)
    {
        if (InputFile.Read(given.Week, WeekFile.Read) is not { } week) return ExitCode.BadInput;
        if (given.Certainty) return await ShowCertainty(week, given, cancelled);
        var asked = given.Chance is { Whole: var chance } ? ChanceOverride.Apply(week, chance) : week;
        var (plan, problem) = (await SearchDisplay.Plan(asked, given.Limits, null, cancelled), Problem.Of(week));
        return await PlanDelivery.Deliver(given, problem, ChanceOverride.WithOwnGoals(problem, plan), Terminal.Output(),
            () => { });
    }

    private static async Task<int> ShowCertainty(Week week, Arguments given, CancellationToken cancelled)
    {
        var offer = await SearchDisplay.Certainty(week, given.Limits, cancelled);
        if (offer.WithoutPlan is { } none)
            return await PlanDelivery.Deliver(given, Problem.Of(week), none, Terminal.Output(), () => { });
        new CertaintyTables(Terminal.Output(), week).Print(offer);
        return ExitCode.Done;
    }
}
