using System.Globalization;
using System.Text.Json;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;
using SetWeek.Service.Words;

namespace SetWeek.Cli.Demo;

/// <summary>
/// Prints a line for each better plan that a running search reports, with a column for each goal. A line of 120 columns has room
/// for seven goals.
/// </summary>
internal sealed class DemoProgress(DemoOutput tables, Week week)
{
    private readonly GoalLabels words = new(week);
    private readonly Grid grid = new(week.Store.TimeZone, week.Nights[0].Opens, 1);
    private long last = -1;
    private string[] shown = [];

    public void Report(JsonElement? best)
    {
        if (best is not { } found || found.Number("afterMilliseconds") is not { } after || after <= last) return;
        var goals = found.Items("goals")
            .Select(goal => (Id: GoalIds.Parse(goal.Text("goal") ?? ""), Value: goal.Number("value") ?? 0)).ToList();
        var values = goals.Select(goal => GoalText(goal.Id, goal.Value)).ToArray();
        if (last < 0)
        {
            tables.Write("Each line is a better plan that the search has found so far. A goal further left weighs more:");
            Line("after", [.. goals.Select(goal => Head(goal.Id))]);
        }
        last = after;
        // Only the bound has improved: the plan is the same.
        if (values.SequenceEqual(shown)) return;
        Line(string.Create(CultureInfo.InvariantCulture, $"{after / 1000m:0.00} s"), values);
        shown = values;
    }

    private void Line(string first, string[] rest) =>
        tables.Write($"{first,8}{string.Concat(rest.Select(cell => cell.PadLeft(15)))}");

    private string GoalText(GoalId? goal, long value) => goal switch
    {
        null => "",
        GoalId.Finish => grid.TimeOf((int)value).LocalDateTime.ToString("ddd HH:mm", CultureInfo.InvariantCulture),
        { } known => words.Value(known, value),
    };

    private static string Head(GoalId? goal) => goal switch
    {
        GoalId.LeftOut => "left out",
        GoalId.Reserve => "beyond reserve",
        GoalId.Bare => "bare zones",
        GoalId.Cost => "wages",
        GoalId.Finish => "work ends",
        GoalId.Nights => "nights",
        GoalId.Shifts => "shifts",
        GoalId.Handovers => "handovers",
        GoalId.Moves => "zone changes",
        GoalId.Hold => "chance missing",
        GoalId.Uneven => "uneven",
        GoalId.Changes => "changes",
        GoalId.Shuffled => "shuffled",
        null => "",
    };
}
