using NodaTime;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;
using Spectre.Console;
using Grid = SetWeek.Model.Time.Grid;

namespace SetWeek.Cli.Tables;

/// <summary>
/// Prints a plan: the shifts and work of each night, the displays left out, and the value and bound of each goal.
/// </summary>
internal sealed class PlanTables(IAnsiConsole console, Week week)
{
    private readonly WeekLabels words = new(week);
    private readonly GoalLabels goals = new(week);
    private readonly Grid grid = new(week.Store.TimeZone, week.Nights[0].Opens, 1);

    public void Print(Plan plan)
    {
        var bare = BareSentences.ByNight(week, plan);
        foreach (var night in plan.Nights.Where(night => night.Shifts.Count + night.Work.Count > 0))
        {
            Night(night);
            if (bare.GetValueOrDefault(night.Night) is { } sentence) console.WriteLine(sentence);
        }
        foreach (var display in week.Displays.Where(display => display.Alternate is { } alternate
            && IsPlanned(plan, alternate.Display)))
            console.WriteLine($"{words.Display(display.Alternate!.Display)} replaces {display.Name}.");
        console.WriteLine(plan.LeftOut.Count == 0 ? "Nothing is left out."
            : $"Left out: {string.Join(", ", plan.LeftOut.Select(words.Display))}.");
        foreach (var breach in plan.Breaches) console.WriteLine($"Already broken: {breach.Sentence}");
        foreach (var note in plan.Notes) console.WriteLine($"Note: {note}");
        Goals(plan);
        Sentences("Without slack:", plan.Tight.Select(tight => tight.Sentence));
    }

    public void Goals(Plan plan)
    {
        if (plan.Goals.Count == 0) return;
        var table = NewTable("Goal", "This plan", "Lower bound", "Gap");
        table.Columns[1].RightAligned();
        table.Columns[2].RightAligned();
        foreach (var goal in plan.Goals)
            AddRow(table, GoalLabels.Name(goal.Goal), goals.Value(goal.Goal, goal.Value),
                goal.Bound is null or 0 && goal.Value != 0 ? "" : goals.Value(goal.Goal, goal.Bound ?? 0), goals.Gap(goal));
        console.WriteLine();
        console.Write(table);
    }

    /// <summary>Prints why no plan exists, and the repairs that would make one possible.</summary>
    public void WithoutPlan(Plan plan)
    {
        Sentences($"{PlanSentences.UnplacedHeading}:", plan.Unplaced.Select(breach => breach.Sentence));
        if (plan.Status == PlanStatus.Unknown) return;
        Sentences(PlanSentences.ConflictHeading(plan),
            plan.Conflict.Select(member => $"{member.Sentence} ({member.Rule.Text()})"));
        if (PlanSentences.Minimality(plan) is { } minimality) console.WriteLine(minimality);
        Sentences("Each of these makes a plan possible (proven):", plan.Repairs.Select(repair =>
            $"{repair.Sentence} {string.Join(", ", repair.Goals.Where(IsInformative).Select(InWords))}".TrimEnd()));
        if (PlanSentences.RepairOrder(plan) is { } order) console.WriteLine(order);
        if (PlanSentences.NoRepair(plan) is { } noRepair) console.WriteLine(noRepair);
    }

    /// <summary>
    /// Zeros are not shown. Nor is the finish: it counts from the opening of the first night, which a repair may move.
    /// </summary>
    private static bool IsInformative(GoalValue goal) => goal.Value > 0 && goal.Goal != GoalId.Finish;

    private string InWords(GoalValue goal) => $"{GoalLabels.Name(goal.Goal)}: {goals.Value(goal.Goal, goal.Value)}";

    private void Sentences(string heading, IEnumerable<string> sentences)
    {
        var lines = sentences.ToArray();
        if (lines.Length == 0) return;
        console.WriteLine();
        console.WriteLine(heading);
        foreach (var line in lines) console.WriteLine($"- {line}");
    }

    private void Night(PlannedNight night)
    {
        var window = words.Night(night.Night)!;
        var change = words.ClocksChange(night.Night);
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
        foreach (var planned in night.Work.OrderBy(planned => planned.From.ToInstant()).ThenBy(planned => planned.To.ToInstant()))
            AddRow(work, Span(planned.From, planned.To, change), words.Work(planned), words.ZoneOf(planned),
                string.Join(", ", planned.People.Select(person => words.Person(person.Person))));
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

    /// <summary>Cells are text, not markup, because they contain names from input files.</summary>
    internal static void AddRow(Table table, params string[] cells) => table.AddRow(cells.Select(cell => new Text(cell)));
}
