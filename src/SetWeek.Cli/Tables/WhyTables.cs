using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Reasons;
using SetWeek.Service.Words;
using Spectre.Console;

namespace SetWeek.Cli.Tables;

/// <summary>
/// Prints why a stint is not planned earlier, and a table of the people who could replace those on it.
/// </summary>
internal sealed class WhyTables(IAnsiConsole console, Week week)
{
    private readonly WhySentences words = new(week);

    public void Print(Why why)
    {
        console.WriteLine(words.Heading(why));
        console.WriteLine();
        console.WriteLine(WhySentences.HereHeading);
        foreach (var line in words.Here(why.Here)) console.WriteLine($"  {line}");
        if (why.AtAll is { } all)
        {
            console.WriteLine();
            console.WriteLine(WhySentences.AtAllHeading);
            foreach (var line in words.AtAll(why, all)) console.WriteLine($"  {line}");
        }
        foreach (var person in why.People)
        {
            console.WriteLine();
            console.WriteLine(words.PersonHeading(person));
            Substitute[] skilled = [.. WhySentences.Skilled(person)];
            if (skilled.Length > 0)
            {
                var table = PlanTables.NewTable("Who", "Simple exchange", "With the night's shifts and people rearranged");
                foreach (var substitute in skilled)
                    PlanTables.AddRow(table, words.Name(substitute.Person), WhySentences.Obstacles(substitute),
                        words.Cost(substitute));
                console.Write(table);
            }
            if (words.Unskilled(person) is { } unskilled) console.WriteLine($"  {unskilled}");
        }
    }
}
