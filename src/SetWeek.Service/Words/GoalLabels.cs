using System.Globalization;
using SetWeek.Model.Plans;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Words;

/// <summary>Goals as people say them: what they are called, how much, and how far from the best that there can be.</summary>
public sealed class GoalLabels(Week week)
{
    public static string Name(string goal) => goal switch
    {
        "leftOut" => "Value of wants left out",
        "reserve" => "Last night beyond its reserve",
        "cost" => "Wages",
        "finish" => "Work ends",
        "nights" => "Nights used",
        "shifts" => "Shifts",
        "moves" => "Changes of zone",
        "uneven" => "Most paid time less least",
        "changes" => "Changes to what is published",
        _ => goal,
    };

    public string Value(string goal, long value) => goal switch
    {
        "cost" => Money.Of(value, week.Currency),
        "finish" => At(value),
        "reserve" or "uneven" => Length(value),
        _ => value.ToString("N0", CultureInfo.InvariantCulture),
    };

    /// <summary>How much better a plan could at most be.</summary>
    public string Gap(GoalValue goal) => goal switch
    {
        { Value: 0 } => "no better exists",
        { Bound: null or 0 } => "nothing is proven",
        { Bound: { } bound } when bound >= goal.Value => "proven: no better exists",
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

    private string At(long minutes)
    {
        var end = new Grid(week.Store.TimeZone, week.Nights[0].Opens, 1).TimeOf((int)minutes).LocalDateTime;
        return $"{end.ToString("ddd d MMM", CultureInfo.InvariantCulture)} {WeekLabels.Time(end)}";
    }

    private static string Percent(long above, long bound) =>
        $"{(100.0 * above / bound).ToString("0.0", CultureInfo.InvariantCulture)} %";
}
