using SetWeek.Cli.Tables;
using SetWeek.Domain.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Replanning;
using SetWeek.Planning.Risk.Reports;

namespace SetWeek.Cli.Demo;

/// <summary>Prints the options of a re-plan and chooses one, as a lead would.</summary>
internal sealed class DemoOptions(DemoOutput tables, DemoPlanning planning)
{
    /// <summary>
    /// Chooses the option that leaves out the least; among equals, the one that falls least short of the chance asked for; then
    /// the one with the fewest people to tell.
    /// </summary>
    public async Task<DemoPlan> Choose(DemoPlan asked, Week week, CancellationToken cancelled)
    {
        var offered = asked.Answer.Items("options").Select(option => (Address: option.Text("address"), Option: new OfferedOption(
            option.Text("id") ?? "", "", option.Text("name") ?? "", option.Text("sentence") ?? "",
            option.As<OptionCost[]>("costs"),
            (int?)option.Field("changes")?.Number("shifts") ?? 0, (int?)option.Field("changes")?.Number("moved") ?? 0,
            (int?)option.Field("changes")?.Number("told") ?? 0,
            option.Field("chance") is null ? null : option.As<HoldChance>("chance")))).ToList();
        if (offered.Count == 0) return asked;
        var (address, chosen) = offered
            .OrderBy(pair => Cost(pair.Option, GoalId.LeftOut)).ThenBy(pair => Cost(pair.Option, GoalId.Hold))
            .ThenBy(pair => pair.Option.Told).ThenBy(pair => pair.Option.Shifts).First();
        new OptionTables(tables.Console, week).Print(offered.Select(pair => pair.Option), chosen.Id);
        tables.Write($"The lead chooses \"{chosen.Name}\": it leaves out the least and, among equals, falls least short of "
            + "the chance asked for.");
        return address is null || address.EndsWith($"/{asked.Id}", StringComparison.Ordinal) ? asked
            : await planning.Read(address, week, cancelled);
    }

    private static long Cost(OfferedOption option, GoalId goal) =>
        option.Costs.FirstOrDefault(cost => cost.Goal == goal)?.Value ?? 0;
}
