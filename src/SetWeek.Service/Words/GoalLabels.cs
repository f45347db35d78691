using System.Globalization;
using SetWeek.Model.Plans;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Words;

/// <summary>Goals as people say them: what they are called, how much, and how far from the best that there can be.</summary>
public sealed class GoalLabels(Week week)
{
    public static string Name(GoalId goal) => goal switch
    {
        GoalId.LeftOut => "Value of wants left out",
        GoalId.Reserve => "Last night beyond its reserve",
        GoalId.Cost => "Wages",
        GoalId.Finish => "Work ends",
        GoalId.Nights => "Nights used",
        GoalId.Shifts => "Shifts",
        GoalId.Moves => "Changes of zone",
        GoalId.Uneven => "Most paid time less least",
        GoalId.Changes => "Changes to what is published",
    };

    public string Value(GoalId goal, long value) => goal switch
    {
        GoalId.Cost => Money.Of(value, week.Currency),
        GoalId.Finish => At(value),
        GoalId.Reserve or GoalId.Uneven => Length(value),
        GoalId.LeftOut or GoalId.Nights or GoalId.Shifts or GoalId.Moves or GoalId.Changes =>
            value.ToString("N0", CultureInfo.InvariantCulture),
    };

    /// <summary>How much better a plan could at most be.</summary>
    public string Gap(GoalValue goal) => goal switch
    {
        { Value: 0 } => "no better exists",
        { Bound: null or 0 } => "nothing is proven",
        { Bound: { } bound } when bound >= goal.Value => "proven: no better exists",
        { Goal: GoalId.Finish, Bound: { } bound } => $"at most {Length(goal.Value - bound)} later than the earliest possible",
        { Goal: GoalId.Cost, Bound: { } bound } => $"at most {Percent(goal.Value - bound, bound)} above the least possible",
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
