using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Reasons;
using SetWeek.Service.Words;
using Spectre.Console;

namespace SetWeek.Cli.Tables;

/// <summary>
/// Why a stint is where it is, for people at a terminal: plain sentences, and a table of who else could be on it.
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
                var table = PlanTables.NewTable("Who", "An exchange and nothing else", "With shifts and people arranged anew");
                foreach (var other in skilled)
                    PlanTables.AddRow(table, words.Name(other.Person), WhySentences.Obstacles(other), words.Cost(other));
                console.Write(table);
            }
            if (words.Unskilled(person) is { } unskilled) console.WriteLine($"  {unskilled}");
        }
    }
}
