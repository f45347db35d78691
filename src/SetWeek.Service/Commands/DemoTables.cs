using NodaTime;
using SetWeek.Scheduling;
using Spectre.Console;

namespace SetWeek.Service.Commands;

/// <summary>The demo's paper: headings, sentences and tables that read the same on a terminal and in a file.</summary>
internal sealed class DemoTables(IAnsiConsole console)
{
    private int chapter;

    public void Title(string title)
    {
        console.WriteLine();
        console.Write(new Rule($"[bold]{++chapter}  {Markup.Escape(title)}[/]") { Justification = Justify.Left, Border = BoxBorder.Square });
    }

    public void Say(string sentence, bool deeper = false) => console.Write(new Padder(new Text(sentence), new Padding(deeper ? 6 : 3, 0, 0, 0)));

    public void Gap() => console.WriteLine();

    /// <summary>No frame: one rule under the heads is enough, and it copies well.</summary>
    public void Rows(string[] heads, IEnumerable<string[]> rows, params int[] right)
    {
        var table = new Table { Border = TableBorder.Simple, ShowRowSeparators = false };
        foreach (var (head, index) in heads.Select((head, index) => (head, index)))
        {
            var column = new TableColumn(new Text(head, new Style(decoration: Decoration.Dim))) { NoWrap = index == 0 };
            table.AddColumn(right.Contains(index) ? column.RightAligned() : column);
        }
        foreach (var row in rows) table.AddRow(row.Select(cell => new Text(cell)));
        console.Write(new Padder(table, new Padding(2, 0, 0, 0)));
    }

    public void Goals(IReadOnlyList<GoalValue> goals, Week week) => Rows(["goal, most important first", "this plan", "proven: never better than"],
        goals.Select(goal => new[]
        {
            DemoWords.GoalName(goal.Goal), DemoWords.GoalValue(goal.Goal, goal.Value, week),
            goal.Bound is not { } bound ? "nothing proven yet"
                : bound == goal.Value ? "this is the best there is" : DemoWords.GoalValue(goal.Goal, bound, week),
        }));

    public void Nights(Plan plan, Week week)
    {
        var nights = week.Nights.ToDictionary(night => night.Id);
        foreach (var planned in plan.Nights)
        {
            var night = nights[planned.Night];
            Gap();
            console.Write(new Padder(new Markup($"[bold]{Markup.Escape(DemoWords.Day(night.Opens))}[/], {DemoWords.Time(night.Opens)}-{DemoWords.Time(night.Closes)}"
                + $" ({DemoWords.Length(DemoWords.Elapsed(night, week.Store.TimeZone))})"
                + (planned.Keyholder is { } keyholder ? $", keyholder {Markup.Escape(NameOf(keyholder, week))}" : "")), new Padding(3, 0, 0, 0)));
            Say(string.Join("; ", planned.Shifts.Select(shift => $"{FirstName(shift.Person, week)} {DemoWords.Span(shift.From, shift.To)}"
                + (shift.Break is { } rest ? $" (break {DemoWords.Time(rest.From)})" : ""))));
            Rows(["when", "what", "where", "who"], planned.Work.OrderBy(work => work.From.ToInstant()).ThenBy(work => work.To.ToInstant())
                .Select(work => Row(work, week)));
        }
        if (plan.LeftOut.Count == 0) return;
        Say($"Left out: {string.Join(", ", plan.LeftOut.Select(id => week.Displays.First(display => display.Id == id).Name))}.");
    }

    public static string NameOf(string person, Week week) => week.Crew.FirstOrDefault(member => member.Id == person)?.Name ?? person;

    public static string FirstName(string person, Week week) => NameOf(person, week).Split(' ')[0];

    public static string WorkName(PlannedWork work, Week week)
    {
        if (work.CleanDown is { } zone) return $"Clean-down: {ZoneName(zone, week)}";
        var task = week.Tasks.First(task => task.Id == work.Task);
        return task.Stints == 1 ? task.Name : $"{task.Name} ({work.Stint} of {task.Stints})";
    }

    private static string[] Row(PlannedWork work, Week week) =>
    [
        DemoWords.Span(work.From, work.To), WorkName(work, week),
        ZoneName(work.CleanDown ?? week.Tasks.First(task => task.Id == work.Task).Zone, week),
        string.Join(", ", work.People.Select(person => FirstName(person.Person, week))),
    ];

    private static string ZoneName(string zone, Week week) => week.Store.Zones.First(known => known.Id == zone).Name;
}
