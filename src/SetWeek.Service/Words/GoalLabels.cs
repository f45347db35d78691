using System.Globalization;
using SetWeek.Model.Plans;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Words;

/// <summary>The names, values and optimality gaps of goals, as users read them.</summary>
public sealed class GoalLabels(Week week)
{
    public static string Name(GoalId goal) => goal switch
    {
        GoalId.LeftOut => "Optional displays left out (value)",
        GoalId.Hold => "Short of the chance asked for, in the sample",
        GoalId.Reserve => "Last-night work beyond its reserve",
        GoalId.Bare => "Trade of zones that stand bare",
        GoalId.Cost => "Wages",
        GoalId.Finish => "Work ends",
        GoalId.Nights => "Nights used",
        GoalId.Shifts => "Shifts",
        GoalId.Handovers => "Half-done tasks handed over",
        GoalId.Moves => "Zone changes",
        GoalId.Uneven => "Paid time, most minus least",
        GoalId.Changes => "Changes to the published plan",
        GoalId.Shuffled => "Work moved or given to others within its night",
    };

    public string Value(GoalId goal, long value) => goal switch
    {
        GoalId.Cost or GoalId.Bare => Money.Of(value, week.Currency),
        GoalId.Finish => TimeOf(value),
        GoalId.Hold => $"{(value / 10.0).ToString("0.#", CultureInfo.InvariantCulture)} points",
        GoalId.Reserve or GoalId.Uneven => Length(value),
        GoalId.LeftOut or GoalId.Nights or GoalId.Shifts or GoalId.Handovers or GoalId.Moves or GoalId.Changes
            or GoalId.Shuffled => value.ToString("N0", CultureInfo.InvariantCulture),
    };

    /// <summary>An upper limit on how much better any plan can be.</summary>
    public string Gap(GoalValue goal) => goal switch
    {
        { Goal: GoalId.Hold, Value: 0 } => "reached in the sample",
        { Value: 0 } => "best possible",
        { Bound: null or 0 } => "not known",
        { Bound: { } bound } when bound >= goal.Value => "best possible (proven)",
        { Goal: GoalId.Finish, Bound: { } bound } => $"at most {Length(goal.Value - bound)} later than the earliest possible",
        { Goal: GoalId.Cost, Bound: { } bound } => $"at most {Percent(goal.Value - bound, bound)} above the least possible",
        { Bound: { } bound } => $"at most {Value(goal.Goal, goal.Value - bound)} above the least possible",
    };

    /// <summary>What no plan does better than, as far as it is known.</summary>
    public string Bound(GoalValue goal) => goal switch
    {
        { Value: 0 } => $"{Value(goal.Goal, 0)}, which is proven",
        { Bound: null or 0 } => "not known",
        { Bound: { } bound } when bound >= goal.Value => $"{Value(goal.Goal, goal.Value)}, which is proven",
        { Bound: { } bound } => Value(goal.Goal, bound),
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
