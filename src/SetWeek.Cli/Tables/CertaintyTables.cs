using SetWeek.Model.Weeks;
using SetWeek.Planning.Certainty;
using SetWeek.Service.Words;
using Spectre.Console;

namespace SetWeek.Cli.Tables;

/// <summary>Prints what certainty costs: a line for each plan, the cheapest first.</summary>
internal sealed class CertaintyTables(IAnsiConsole console, Week week)
{
    public void Print(CertaintyOffer offer)
    {
        var plans = offer.Plans;
        var table = PlanTables.NewTable(
            "Asked for", "Holds", "95 % interval", "Nothing half-secured", "Wages", "More than the first");
        foreach (var plan in plans)
            PlanTables.AddRow(table, plan.AskedPercent == 0 ? "the cheapest" : $"{plan.AskedPercent} %",
                ChanceSentences.Percent(plan.Chance.Holds), ChanceSentences.Interval(plan.Chance.Holds),
                ChanceSentences.Percent(plan.Chance.Secured), Money.Of(plan.Cost, week.Currency),
                Money.Of(plan.Cost - plans[0].Cost, week.Currency));
        console.Write(table);
        console.WriteLine(new ChanceSentences(week).Of(offer));
        console.WriteLine("Each plan keeps every rule. Plan the one that you want with --chance.");
    }
}
