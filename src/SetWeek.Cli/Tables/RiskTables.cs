using SetWeek.Scheduling;
using SetWeek.Scheduling.Risks;
using SetWeek.Service.Words;
using Spectre.Console;

namespace SetWeek.Cli.Tables;

/// <summary>A plan's risk for people at a terminal: what holds how often, what drives it, what would help.</summary>
internal sealed class RiskTables(IAnsiConsole console, Week week)
{
    private readonly RiskWords words = new(week);

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
        console.WriteLine(RiskWords.Caution(risk));
    }

    private void Nights(RiskReport risk)
    {
        if (risk.Nights.Count == 0) return;
        var table = PlanTables.Plain(
            "Night", "Ends in its window, of 100", "Half end by", "80 of 100 end by", "Over its end", "Past shift ends");
        foreach (var night in risk.Nights)
            PlanTables.Row(table, words.Night(night.Night), RiskWords.Hundredths(night.InWindow.Share), RiskWords.Time(night.P50),
                RiskWords.Time(night.P80), RiskWords.Minutes(night.OverMinutes), RiskWords.Minutes(night.OvertimeMinutes));
        console.WriteLine();
        console.Write(table);
    }

    private void Dues(RiskReport risk)
    {
        if (risk.Dues.Count == 0) return;
        var table = PlanTables.Plain("Due", "By the end of", "Met, of 100");
        foreach (var due in risk.Dues)
            PlanTables.Row(table, words.Task(due.Task), words.Night(due.Night), RiskWords.Hundredths(due.Met.Share));
        console.Write(table);
    }

    private void Tasks(RiskReport risk)
    {
        var drivers = RiskWords.Drivers(risk);
        if (drivers.Count == 0) return;
        var table = PlanTables.Plain("What drives it", "Last of all, of 100", "Last of its night", "With the end",
            "With a missed launch", "Put off, of 100");
        foreach (var task in drivers)
            PlanTables.Row(table, words.Task(task.Task),
                RiskWords.Hundredths(task.Criticality), RiskWords.Hundredths(task.NightCriticality),
                RiskWords.Correlation(task.Cruciality), RiskWords.Correlation(task.LaunchCruciality),
                RiskWords.Hundredths(task.PutOff));
        console.Write(table);
        console.WriteLine(
            "Last: it is on the chain that ends last. With: how its length goes with the end, and with missing the launch; "
            + "1 is in step, nothing is not at all.");
    }
}
