using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Service.Words;
using Spectre.Console;

namespace SetWeek.Cli.Tables;

/// <summary>A plan's risk for people at a terminal: what holds how often, what drives it, what would help.</summary>
internal sealed class RiskTables(IAnsiConsole console, Week week)
{
    private readonly RiskSentences words = new(week);

    public void Print(RiskReport risk)
    {
        foreach (var sentence in words.Chances(risk)) console.WriteLine(sentence);
        Nights(risk);
        Dues(risk);
        Tasks(risk);
        console.WriteLine();
        if (risk.Helps is { Best.Count: > 0 }) console.WriteLine("What would help:");
        foreach (var sentence in words.Helps(risk)) console.WriteLine($"  {sentence}");
        console.WriteLine();
        console.WriteLine(RiskSentences.Caution(risk));
    }

    private void Nights(RiskReport risk)
    {
        if (risk.Nights.Count == 0) return;
        var table = PlanTables.NewTable(
            "Night", "Ends in its window, of 100", "Half end by", "80 of 100 end by", "Over its end", "Past shift ends");
        foreach (var night in risk.Nights)
            PlanTables.AddRow(table, words.Night(night.Night), RiskSentences.OfHundred(night.InWindow.Share),
                RiskSentences.Time(night.P50), RiskSentences.Time(night.P80),
                RiskSentences.Minutes(night.OverMinutes), RiskSentences.Minutes(night.OvertimeMinutes));
        console.WriteLine();
        console.Write(table);
    }

    private void Dues(RiskReport risk)
    {
        if (risk.Dues.Count == 0) return;
        var table = PlanTables.NewTable("Due", "By the end of", "Met, of 100");
        foreach (var due in risk.Dues)
            PlanTables.AddRow(table, words.Task(due.Task), words.Night(due.Night), RiskSentences.OfHundred(due.Met.Share));
        console.Write(table);
    }

    private void Tasks(RiskReport risk)
    {
        var drivers = RiskSentences.Drivers(risk);
        if (drivers.Count == 0) return;
        var table = PlanTables.NewTable("What drives it", "Last of all, of 100", "Last of its night", "With the end",
            "With a missed launch", "Put off, of 100");
        foreach (var task in drivers)
            PlanTables.AddRow(table, words.Task(task.Task),
                RiskSentences.OfHundred(task.Criticality), RiskSentences.OfHundred(task.NightCriticality),
                RiskSentences.Correlation(task.Cruciality), RiskSentences.Correlation(task.LaunchCruciality),
                RiskSentences.OfHundred(task.PutOff));
        console.Write(table);
        console.WriteLine(
            "Last: it is on the chain that ends last. With: how its length goes with the end, and with missing the launch; "
            + "1 is in step, nothing is not at all.");
    }
}
