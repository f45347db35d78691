using SetWeek.Domain.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;
using Spectre.Console;

namespace SetWeek.Cli.Tables;

/// <summary>The options of a re-plan for people at a terminal: what each is, and what it comes to, side by side.</summary>
internal sealed class OptionTables(IAnsiConsole console, Week week)
{
    private readonly GoalLabels words = new(week);

    /// <param name="chosen">The id of the one that was taken.</param>
    public void Print(IEnumerable<OfferedOption> offered, string? chosen)
    {
        OfferedOption[] options = [.. offered];
        console.WriteLine();
        if (options.Length == 1) console.WriteLine("There is one option: no other is better in anything that counts.");
        var table =
            PlanTables.NewTable(["Option", .. options.Select(option => option.Id == chosen ? $"{option.Name} *" : option.Name)]);
        PlanTables.AddRow(table, ["--option", .. options.Select(option => option.Id)]);
        foreach (var (at, cost) in options[0].Costs.Index())
            PlanTables.AddRow(table,
                [GoalLabels.Name(cost.Goal), .. options.Select(option => words.Value(cost.Goal, option.Costs[at].Value))]);
        PlanTables.AddRow(table, ["Shifts changed", .. options.Select(option => $"{option.Shifts}")]);
        PlanTables.AddRow(table, ["Work in another night", .. options.Select(option => $"{option.Moved}")]);
        PlanTables.AddRow(table, ["People to tell", .. options.Select(option => $"{option.Told}")]);
        console.Write(table);
        foreach (var option in options) console.WriteLine($"{option.Name}: {option.Sentence}");
        if (chosen is not null) console.WriteLine("* shown here.");
    }
}
