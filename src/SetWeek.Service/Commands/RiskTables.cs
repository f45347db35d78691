using System.Globalization;
using NodaTime;
using SetWeek.Scheduling;
using SetWeek.Scheduling.Risks;
using SetWeek.Service.Pages;
using Spectre.Console;

namespace SetWeek.Service.Commands;

/// <summary>A plan's risk for people at a terminal: what holds how often, what drives it, what would help.</summary>
internal sealed class RiskTables(IAnsiConsole console, Week week)
{
    private const int Drivers = 8;

    private readonly PageWords words = new(week);

    public void Print(RiskReport risk)
    {
        console.WriteLine($"Launch holds {RiskWords.Of(risk.Launch)}.");
        if (risk.Done != risk.Launch) console.WriteLine($"All that is planned is done in some night {RiskWords.Of(risk.Done)}.");
        if (risk.Secured.Held < risk.Secured.Runs) console.WriteLine($"Nothing half-secured is left for the morning {RiskWords.Of(risk.Secured)}.");
        console.WriteLine($"Work ends by {At(risk.Finish.P50)} in half of the runs, by {At(risk.Finish.P80)} in 80 of 100, by {At(risk.Finish.P90)} in 90.");
        Nights(risk);
        Dues(risk);
        Tasks(risk);
        Helps(risk);
        console.WriteLine();
        console.WriteLine($"{RiskWords.Count(risk.Runs)} runs, seed {risk.Seed}; {risk.UncertainTasks} tasks are uncertain. The plan is worked in its order and nobody "
            + "re-plans. It is an estimate under the estimates given, and no promise: late kits, illness and wrong estimates are no part of it.");
    }

    private void Nights(RiskReport risk)
    {
        if (risk.Nights.Count == 0) return;
        var table = PlanTables.Plain("Night", "Ends in its window, of 100", "Work ends in half by", "In 80 of 100 by", "Over its end", "Past shift ends");
        foreach (var night in risk.Nights)
            PlanTables.Row(table, words.Night(night.Night) is { } window ? PageWords.Day(window.Opens) : night.Night,
                RiskWords.Hundredths(night.InWindow.Share), Time(night.P50), Time(night.P80), Minutes(night.OverMinutes), Minutes(night.OvertimeMinutes));
        console.WriteLine();
        console.Write(table);
    }

    private void Dues(RiskReport risk)
    {
        if (risk.Dues.Count == 0) return;
        var table = PlanTables.Plain("Due", "By the end of", "Met, of 100");
        foreach (var due in risk.Dues) PlanTables.Row(table, Task(due.Task), due.Night, RiskWords.Hundredths(due.Met.Share));
        console.Write(table);
    }

    private void Tasks(RiskReport risk)
    {
        TaskRisk[] drivers = [.. risk.Tasks.Where(task => task.Criticality + task.NightCriticality + task.PutOff > 0).Take(Drivers)];
        if (drivers.Length == 0) return;
        var table = PlanTables.Plain("What drives it", "Last of all, of 100", "Last of its night", "With the end", "With a missed launch", "Put off, of 100");
        foreach (var task in drivers)
            PlanTables.Row(table, Task(task.Task), RiskWords.Hundredths(task.Criticality), RiskWords.Hundredths(task.NightCriticality),
                Correlation(task.Cruciality), Correlation(task.LaunchCruciality), RiskWords.Hundredths(task.PutOff));
        console.Write(table);
        console.WriteLine("Last: it is on the chain that ends last. With: how its length goes with the end, and with missing the launch; 1 is in step, 0 not at all.");
    }

    private void Helps(RiskReport risk)
    {
        if (risk.Helps is not { } helps) return;
        console.WriteLine();
        if (helps.Best.Count == 0)
        {
            console.WriteLine($"Of {helps.Tried} remedies that were tried none makes the launch or the nights hold more often.");
            return;
        }
        console.WriteLine("What would help:");
        foreach (var one in helps.Best)
            console.WriteLine($"  {one.Sentence} Then launch holds {RiskWords.Of(one.Launch)}, {Signed(one.Gain)} (±{Number(100 * one.GainError)})"
                + $"{(one.PlannedAnew ? ", planned anew" : "")}; {Number(one.NightsInWindow)} of {week.Nights.Count} nights end in their windows.");
        if (helps.Both is { } both) console.WriteLine($"  With both, launch holds {RiskWords.Of(both)}.");
    }

    private string Task(string id) => words.Task(id) is { } task ? $"{task.Name} ({id})" : id;

    private static string At(OffsetDateTime? time) => time is { } at
        ? $"{at.LocalDateTime.ToString("ddd d MMM", CultureInfo.InvariantCulture)} {PageWords.Time(at.LocalDateTime)}" : "no night of the week";

    private static string Time(OffsetDateTime? time) => time is { } at ? PageWords.Time(at.LocalDateTime) : "";

    private static string Minutes(double minutes) => minutes < 0.05 ? "" : $"{Number(minutes)} min";

    private static string Number(double value) => value.ToString("0.0", CultureInfo.InvariantCulture);

    private static string Signed(double share) => $"{(share < 0 ? "" : "+")}{Number(100 * share)} of 100";

    private static string Correlation(double value) => Math.Abs(value) < 0.05 ? "" : value.ToString("0.00", CultureInfo.InvariantCulture);
}
