using SetWeek.Scheduling;
using SetWeek.Scheduling.Explanations;
using SetWeek.Service.Words;
using Spectre.Console;

namespace SetWeek.Cli.Tables;

/// <summary>
/// Why a stint is where it is, for people at a terminal: plain sentences, and a table of who else could be on it.
/// </summary>
internal sealed class WhyTables(IAnsiConsole console, Week week)
{
    private readonly WhyWords words = new(week);

    public void Print(Why why)
    {
        console.WriteLine(words.Heading(why));
        console.WriteLine();
        console.WriteLine(WhyWords.HereHeading);
        foreach (var line in words.Here(why.Here)) console.WriteLine($"  {line}");
        if (why.AtAll is { } all)
        {
            console.WriteLine();
            console.WriteLine(WhyWords.AtAllHeading);
            foreach (var line in words.AtAll(why, all)) console.WriteLine($"  {line}");
        }
        foreach (var person in why.People)
        {
            console.WriteLine();
            console.WriteLine(words.PersonHeading(person));
            OtherPerson[] skilled = [.. WhyWords.Skilled(person)];
            if (skilled.Length > 0)
            {
                var table = PlanTables.Plain("Who", "An exchange and nothing else", "With shifts and people arranged anew");
                foreach (var other in skilled)
                    PlanTables.Row(table, words.Name(other.Person), WhyWords.Stopped(other), words.Cost(other));
                console.Write(table);
            }
            if (words.Unskilled(person) is { } unskilled) console.WriteLine($"  {unskilled}");
        }
    }
}
