using System.ComponentModel;
using SetWeek.Cli.Input;
using SetWeek.Cli.Tables;
using SetWeek.Domain.Plans;
using SetWeek.Model.Comparing;
using SetWeek.Model.Files;
using SetWeek.Model.Problems;
using Spectre.Console.Cli;

namespace SetWeek.Cli.Commands;

/// <summary>The `replan` command: offers up to three new plans, given the published one and what has happened since.</summary>
internal sealed class ReplanCommand : AsyncCommand<ReplanCommand.Arguments>
{
    public sealed class Arguments : SearchArguments
    {
        [CommandOption("--published <PLAN.json>", isRequired: true), Description("The published plan.")]
        public string Published { get; init; } = "";

        [CommandOption("--now <LOCAL>", isRequired: true)]
        [Description("The local time in the store, for example 2027-03-09T14:00. No new work starts before it.")]
        public string Now { get; init; } = "";

        [CommandOption("--progress <PROGRESS.json>"), Description("The work reported so far.")]
        public string? Progress { get; init; }

        [CommandOption("--option <ID>"), Description("Id of the re-plan option to save and print; default: the first.")]
        public string? Option { get; init; }

        protected override string? Fault() => base.Fault() ?? ReplanInput.Fault(Published, Now, Progress);
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Arguments given, CancellationToken cancelled)
    {
        if (InputFile.Read(given.Week, WeekFile.Read) is not { } week) return ExitCode.BadInput;
        if (ReplanInput.Read(week, given.Published, ReplanInput.Time(given.Now)!.Value, given.Progress) is not { } replan)
            return ExitCode.BadInput;

        var offer = await SearchDisplay.Options(week, given.Limits, replan, cancelled);
        var (problem, console) = (Problem.Of(week, replan), Terminal.Output());
        var chosen = offer.Options.FirstOrDefault(option => given.Option is null || option.Id == given.Option);
        if (chosen is null && offer.Options.Count > 0)
        {
            await Console.Error.WriteLineAsync($"There is no option \"{given.Option}\". Choose one of: "
                + $"{string.Join(", ", offer.Options.Select(option => option.Id))}.");
            return ExitCode.BadInput;
        }
        var plan = chosen?.Plan ?? offer.Plan;
        return await PlanDelivery.Deliver(given, problem, plan, console, () =>
        {
            new ChangeTables(console, week).Print(PlanChanges.Between(problem, replan.Published, plan));
            new OptionTables(console, week)
                .Print(offer.Options.Select(option => OfferedOption.Of("", option, problem)), chosen?.Id);
        });
    }
}
