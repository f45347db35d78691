using SetWeek.Model.Comparing;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;
using Spectre.Console;

namespace SetWeek.Cli.Tables;

/// <summary>A plan beside another, for people at a terminal: goal by goal, then what moves.</summary>
internal sealed class DifferenceTables(IAnsiConsole console, Week week)
{
    private readonly GoalLabels words = new(week);

    /// <param name="difference">Null where there is nothing to compare with, which is said.</param>
    public void Print(PlanComparison? difference)
    {
        console.WriteLine();
        if (difference is null)
        {
            console.WriteLine("Without the changes there is no plan to compare this one with.");
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
