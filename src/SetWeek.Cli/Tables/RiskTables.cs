using SetWeek.Model.Weeks;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Service.Words;
using Spectre.Console;

namespace SetWeek.Cli.Tables;

/// <summary>Prints the risk of a plan: probabilities, the tasks that drive them, and what would help.</summary>
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
        if (risk.Helps is not null) console.WriteLine("What would help:");
        foreach (var sentence in words.Helps(risk)) console.WriteLine($"  {sentence}");
        console.WriteLine();
        console.WriteLine(RiskSentences.Caution(risk));
    }

    private void Nights(RiskReport risk)
    {
        if (risk.Nights.Count == 0) return;
        var table = PlanTables.NewTable(
            "Night", "Ends on time (%)", "Median end", "End in 80 %", "Mean overrun", "Mean overtime");
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
        var table = PlanTables.NewTable("Due task", "By the end of", "Met (%)");
        foreach (var due in risk.Dues)
            PlanTables.AddRow(table, words.Task(due.Task), words.Night(due.Night), RiskSentences.OfHundred(due.Met.Share));
        console.Write(table);
    }

    private void Tasks(RiskReport risk)
    {
        var drivers = RiskSentences.Drivers(risk);
        if (drivers.Count == 0) return;
        var table = PlanTables.NewTable("Task", "Critical (%)", "Critical in its night (%)", "Correlation, finish",
            "Correlation, missed launch", "Put off (%)");
        foreach (var task in drivers)
            PlanTables.AddRow(table, words.Task(task.Task),
                RiskSentences.OfHundred(task.Criticality), RiskSentences.OfHundred(task.NightCriticality),
                RiskSentences.Correlation(task.Cruciality), RiskSentences.Correlation(task.LaunchCruciality),
                RiskSentences.OfHundred(task.PutOff));
        console.Write(table);
        console.WriteLine(
            "Critical: share of simulated weeks in which the task is on the chain of work that ends last. Correlation: rank "
            + "correlation of the task's duration with the finish, or with a missed launch; blank below 0.05.");
    }
}
