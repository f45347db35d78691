using SetWeek.Domain.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;
using Spectre.Console;

namespace SetWeek.Cli.Tables;

/// <summary>Prints the options of a re-plan side by side, with the value of each goal.</summary>
internal sealed class OptionTables(IAnsiConsole console, Week week)
{
    private readonly GoalLabels words = new(week);

    /// <param name="chosen">The id of the chosen option, which is marked; null for none.</param>
    public void Print(IEnumerable<OfferedOption> offered, string? chosen)
    {
        OfferedOption[] options = [.. offered];
        console.WriteLine();
        if (options.Length == 1) console.WriteLine("There is one option: no other plan found is better in any goal.");
        var table =
            PlanTables.NewTable(["Option", .. options.Select(option => option.Id == chosen ? $"{option.Name} *" : option.Name)]);
        PlanTables.AddRow(table, ["--option", .. options.Select(option => option.Id)]);
        foreach (var (index, cost) in options[0].Costs.Index())
            PlanTables.AddRow(table,
                [GoalLabels.Name(cost.Goal), .. options.Select(option => words.Value(cost.Goal, option.Costs[index].Value))]);
        foreach (var (head, cells) in ChanceSentences.OptionRows(options)) PlanTables.AddRow(table, [head, .. cells]);
        PlanTables.AddRow(table, ["Shifts changed", .. options.Select(option => $"{option.Shifts}")]);
        PlanTables.AddRow(table, ["Work moved to another night", .. options.Select(option => $"{option.Moved}")]);
        PlanTables.AddRow(table, ["People to tell", .. options.Select(option => $"{option.Told}")]);
        console.Write(table);
        foreach (var option in options) console.WriteLine($"{option.Name}: {option.Sentence}");
        if (chosen is not null) console.WriteLine("* The chosen option.");
    }
}
