using System.Globalization;
using SetWeek.Model.Plans;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Words;

/// <summary>The names, values and optimality gaps of goals, as users read them.</summary>
public sealed class GoalLabels(Week week)
{
    public static string Name(string goal) => goal switch
    {
        "leftOut" => "Optional displays left out (value)",
        "reserve" => "Last-night work beyond its reserve",
        "cost" => "Wages",
        "finish" => "Work ends",
        "nights" => "Nights used",
        "shifts" => "Shifts",
        "moves" => "Zone changes",
        "uneven" => "Paid time, most minus least",
        "changes" => "Changes to the published plan",
        _ => goal,
    };

    public string Value(string goal, long value) => goal switch
    {
        "cost" => Money.Of(value, week.Currency),
        "finish" => TimeOf(value),
        "reserve" or "uneven" => Length(value),
        _ => value.ToString("N0", CultureInfo.InvariantCulture),
    };

    /// <summary>An upper limit on how much better any plan can be.</summary>
    public string Gap(GoalValue goal) => goal switch
    {
        { Value: 0 } => "best possible",
        { Bound: null or 0 } => "not known",
        { Bound: { } bound } when bound >= goal.Value => "best possible (proven)",
        { Goal: "finish", Bound: { } bound } => $"at most {Length(goal.Value - bound)} later than the earliest possible",
        { Goal: "cost", Bound: { } bound } => $"at most {Percent(goal.Value - bound, bound)} above the least possible",
        { Bound: { } bound } => $"at most {Value(goal.Goal, goal.Value - bound)} above the least possible",
    };

    public static string Length(long minutes) => (minutes / 60, minutes % 60) switch
    {
        (0, var rest) => $"{rest} min",
        (var hours, 0) => $"{hours} h",
        var (hours, rest) => $"{hours} h {rest:00}",
    };

    private string TimeOf(long minutes)
    {
        var end = new Grid(week.Store.TimeZone, week.Nights[0].Opens, 1).TimeOf((int)minutes).LocalDateTime;
        return $"{end.ToString("ddd d MMM", CultureInfo.InvariantCulture)} {WeekLabels.Time(end)}";
    }

    private static string Percent(long above, long bound) =>
        $"{(100.0 * above / bound).ToString("0.0", CultureInfo.InvariantCulture)} %";
}
