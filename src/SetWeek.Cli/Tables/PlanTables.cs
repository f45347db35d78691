using NodaTime;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;
using Spectre.Console;
using Grid = SetWeek.Model.Time.Grid;

namespace SetWeek.Cli.Tables;

/// <summary>
/// A plan for people at a terminal: night by night who is on and what is done, what is left out, and how good it is.
/// </summary>
internal sealed class PlanTables(IAnsiConsole console, Week week)
{
    private readonly WeekLabels words = new(week);
    private readonly GoalLabels goals = new(week);
    private readonly Grid grid = new(week.Store.TimeZone, week.Nights[0].Opens, 1);

    public void Print(Plan plan)
    {
        foreach (var night in plan.Nights.Where(night => night.Shifts.Count + night.Work.Count > 0)) Night(night);
        foreach (var display in week.Displays.Where(display => display.Alternate is { } other && IsPlanned(plan, other.Display)))
            console.WriteLine($"{words.Display(display.Alternate!.Display)} stands instead of {display.Name}.");
        console.WriteLine(plan.LeftOut.Count == 0 ? "Nothing is left out."
            : $"Left out: {string.Join(", ", plan.LeftOut.Select(words.Display))}.");
        foreach (var breach in plan.Breaches) console.WriteLine($"Already so: {breach.Sentence}");
        Goals(plan);
        Sentences("No slack:", plan.Tight.Select(tight => tight.Sentence));
    }

    public void Goals(Plan plan)
    {
        if (plan.Goals.Count == 0) return;
        var table = NewTable("Goal", "This plan", "Never below", "How good that is");
        table.Columns[1].RightAligned();
        table.Columns[2].RightAligned();
        foreach (var goal in plan.Goals)
            AddRow(table, GoalLabels.Name(goal.Goal), goals.Value(goal.Goal, goal.Value),
                goal.Bound is null or 0 && goal.Value != 0 ? "" : goals.Value(goal.Goal, goal.Bound ?? 0), goals.Gap(goal));
        console.WriteLine();
        console.Write(table);
    }

    /// <summary>Why there is no plan, and what would make one possible.</summary>
    public void WithoutPlan(Plan plan)
    {
        Sentences(PlanSentences.ConflictHeading(plan), plan.Conflict.Select(member => $"{member.Sentence} ({member.Rule.Text()})"));
        if (PlanSentences.Minimality(plan) is { } smallest) console.WriteLine(smallest);
        Sentences("Any one of these is proven to help:", plan.Repairs.Select(repair =>
            $"{repair.Sentence} {string.Join(", ", repair.Goals.Where(IsInformative).Select(InWords))}".TrimEnd()));
        if (PlanSentences.NoRepair(plan) is { } none) console.WriteLine(none);
    }

    /// <summary>
    /// When work ends is counted from the first opens, which a repair may have moved; none of something needs no word.
    /// </summary>
    private static bool IsInformative(GoalValue goal) => goal.Value > 0 && goal.Goal != GoalId.Finish;

    private string InWords(GoalValue goal) => $"{GoalLabels.Name(goal.Goal)}: {goals.Value(goal.Goal, goal.Value)}";

    private void Sentences(string heading, IEnumerable<string> sentences)
    {
        var told = sentences.ToArray();
        if (told.Length == 0) return;
        console.WriteLine();
        console.WriteLine(heading);
        foreach (var sentence in told) console.WriteLine($"- {sentence}");
    }

    private void Night(PlannedNight night)
    {
        var window = words.Night(night.Night)!;
        var change = words.ClocksChange(night);
        var length = grid.MinuteOf(window.Closes) - grid.MinuteOf(window.Opens);
        console.WriteLine();
        console.Write(new Rule(Markup.Escape($"{WeekLabels.Day(window.Opens)}, {WeekLabels.Time(window.Opens)} to "
            + $"{WeekLabels.Time(window.Closes)}"
            + $" ({GoalLabels.Length(length)}{(change ? ", the clocks change" : "")})"
            + (night.Keyholder is { } keyholder ? $", keyholder {words.Person(keyholder)}" : "")))
        { Justification = Justify.Left });

        var shifts = NewTable("On shift", "From", "To", "Break");
        foreach (var shift in night.Shifts.OrderBy(shift => shift.From.ToInstant())
            .ThenBy(shift => words.Person(shift.Person), StringComparer.Ordinal))
            AddRow(shifts, words.Person(shift.Person), WeekLabels.Time(shift.From, change), WeekLabels.Time(shift.To, change),
                shift.Break is { } rest ? Span(rest.From, rest.To, change) : "");
        if (night.Shifts.Count > 0) console.Write(shifts);

        var work = NewTable("When", "Work", "Where", "Who");
        foreach (var one in night.Work.OrderBy(one => one.From.ToInstant()).ThenBy(one => one.To.ToInstant()))
            AddRow(work, Span(one.From, one.To, change), words.Work(one), words.ZoneOf(one),
                string.Join(", ", one.People.Select(hand => words.Person(hand.Person))));
        if (night.Work.Count > 0) console.Write(work);
    }

    private bool IsPlanned(Plan plan, string display) =>
        plan.Nights.SelectMany(night => night.Work).Any(work => words.Task(work.Task)?.Display == display);

    private static string Span(OffsetDateTime from, OffsetDateTime to, bool change) =>
        $"{WeekLabels.Time(from, change)}-{WeekLabels.Time(to, change)}";

    internal static Table NewTable(params string[] heads)
    {
        var table = new Table { Border = TableBorder.Simple };
        foreach (var (index, head) in heads.Index()) table.AddColumn(new TableColumn(new Text(head)) { NoWrap = index == 0 });
        return table;
    }

    /// <summary>As text, never as markup: names are other people's.</summary>
    internal static void AddRow(Table table, params string[] cells) => table.AddRow(cells.Select(cell => new Text(cell)));
}
