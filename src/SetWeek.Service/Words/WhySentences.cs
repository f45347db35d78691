using SetWeek.Model.Plans;
using System.Globalization;
using NodaTime;
using SetWeek.Model.Comparing;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Reasons;

namespace SetWeek.Service.Words;

/// <summary>The sentences of an answer to why, for the terminal and for the page.</summary>
public sealed class WhySentences(Week week)
{
    public const string HereHeading = "Why not earlier, with the rest of the plan as it is";
    public const string AtAllHeading = "Why not earlier, in any plan of the week";

    private readonly WeekLabels words = new(week);
    private readonly GoalLabels goals = new(week);

    public string Heading(Why why)
    {
        var task = words.Task(why.Task)!;
        return $"{task.Name}{(task.Stints > 1 ? $", part {why.Stint} of {task.Stints}" : "")}: {At(why.From)} to "
            + WeekLabels.Time(why.To.LocalDateTime);
    }

    public string Name(string person) => words.Person(person);

    public IEnumerable<string> Here(LeftShiftExplanation here)
    {
        foreach (var hold in here.Holds) yield return hold.Sentence;
        if (here.Open is { } open)
        {
            var starts = here.OpenStarts == 1 ? "one earlier start breaks" : $"{here.OpenStarts} earlier starts break";
            yield return $"It could: {starts} no rule, the earliest {At(open.From)}{With(open)}. {Differences(open.Goals)}";
        }
        else if (here.LookedBackTo is null && here.Holds is not [{ Rule: RuleId.Frozen, Until: null }])
            yield return "Every earlier start breaks one of these.";
        if (here.LookedBackTo is { } back) yield return $"Looked at back to {At(back)}; for the rest there was no time.";
    }

    public IEnumerable<string> AtAll(Why why, EarliestStartExplanation all)
    {
        yield return $"No plan starts it before {At(all.NotBefore)}: that is proven."
            + (all.NotBefore.ToInstant() == why.From.ToInstant() ? "" : $" The earliest start found is {At(all.Found)}.");
        foreach (var hold in all.Because) yield return hold.Sentence;
        if (all.MayHoldMore) yield return "There was no time to prove that each of these is needed.";
        if (all.Earlier is { } plan)
            yield return $"The best plan{(all.Proven ? "" : " found")} that starts it earlier does so "
                + $"{At(plan.From)}{With(plan)}. {Differences(plan.Goals)}";
        else if (!all.Proven) yield return "No plan that starts it earlier was found in the time given; there may be one.";
    }

    public string PersonHeading(AssignmentExplanation person) => $"Instead of {words.Person(person.Person)} ({person.Skill})";

    /// <summary>Those of whom there is more to say than that they have not got the skill.</summary>
    public static IEnumerable<Substitute> Skilled(AssignmentExplanation person) => person.Others.Where(other => !LacksSkill(other));

    /// <summary>The others in one line; null where there are none.</summary>
    public string? Unskilled(AssignmentExplanation person)
    {
        string[] names = [.. person.Others.Where(LacksSkill).Select(other => Name(other.Person))];
        return names.Length == 0 ? null : $"Without the skill for it: {string.Join(", ", names)}.";
    }

    public static string Obstacles(Substitute other) =>
        other.Stopped.Count == 0 ? "breaks nothing" : string.Join(" ", other.Stopped.Select(hold => hold.Sentence));

    public string Cost(Substitute other) => other switch
    {
        { Goals: { } values } => Differences(values) + (other.Rearranged ? " Others change places." : "")
            + (other.Proven ? "" : " (The best found.)"),
        // Other work may not move for it: at other times it might be.
        { Proven: true } => "cannot be, with the night's work at its times",
        _ => "no way found in the time given",
    };

    public string Differences(IReadOnlyList<GoalDifference> all)
    {
        string[] changed = [.. all.Where(one => one.Difference != 0)
            .Select(one => $"{GoalLabels.Name(one.Goal)}: {Difference(one)}")];
        return changed.Length == 0 ? "No goal changes." : $"{string.Join("; ", changed)}.";
    }

    private static bool LacksSkill(Substitute other) =>
        other is { Goals: null, Proven: true, Stopped: [{ Rule: RuleId.Skill }] };

    private string Difference(GoalDifference one)
    {
        var much = Math.Abs(one.Difference);
        return one.Goal == GoalId.Finish ? $"{GoalLabels.Length(much)} {(one.Difference > 0 ? "later" : "earlier")}"
            : $"{goals.Value(one.Goal, much)} {(one.Difference > 0 ? "more" : "less")}";
    }

    private string With(EarlierStart start) => start.People.Count == 0 ? ""
        : $", with {WeekLabels.Join([.. start.People.Select(hand => words.Person(hand.Person))])}";

    private static string At(OffsetDateTime time) => time.LocalDateTime.ToString("ddd d MMM HH:mm", CultureInfo.InvariantCulture);
}
