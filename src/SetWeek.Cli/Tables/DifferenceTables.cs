using SetWeek.Model.Comparing;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;
using Spectre.Console;

namespace SetWeek.Cli.Tables;

/// <summary>Compares two plans: goal by goal, then the changes.</summary>
internal sealed class DifferenceTables(IAnsiConsole console, Week week)
{
    private readonly GoalLabels words = new(week);

    /// <param name="difference">Null if one of the two plans does not exist; a sentence says so.</param>
    public void Print(PlanComparison? difference)
    {
        console.WriteLine();
        if (difference is null)
        {
            console.WriteLine("There is nothing to compare with: the week without the changes has no plan.");
            return;
        }
        var without = difference.Baseline == PlanComparison.Published ? "as published" : "as it stands";
        var table = PlanTables.NewTable("Goal", $"The week {without}", "With the changes");
        table.Columns[1].RightAligned();
        table.Columns[2].RightAligned();
        foreach (var goal in difference.Goals)
            PlanTables.AddRow(table, GoalLabels.Name(goal.Goal), words.Value(goal.Goal, goal.Was),
                words.Value(goal.Goal, goal.Now));
        console.Write(table);
        new ChangeTables(console, week).Print(difference.Changes, without);
    }
}
