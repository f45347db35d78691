using System.Globalization;
using NodaTime;
using SetWeek.Model.Comparing;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Reasons;

namespace SetWeek.Service.Words;

/// <summary>The sentences that explain the place of a stint, for the command line and the pages.</summary>
public sealed class WhySentences(Week week)
{
    public const string HereHeading = "Why not earlier, if the rest of the plan stays";
    public const string AtAllHeading = "Why not earlier, in any plan of the week";

    private readonly WeekLabels words = new(week);
    private readonly GoalLabels goals = new(week);

    public string Heading(Why why)
    {
        var task = words.Task(why.Task)!;
        return $"{task.Name}{(task.Stints > 1 ? $", part {why.Stint} of {task.Stints}" : "")}: {DayTime(why.From)} to "
            + WeekLabels.Time(why.To.LocalDateTime);
    }

    public string Name(string person) => words.Person(person);

    public IEnumerable<string> Here(LeftShiftExplanation here)
    {
        foreach (var hold in here.Holds) yield return hold.Sentence;
        if (here.Open is { } open)
        {
            var starts = here.OpenStarts == 1 ? "1 earlier start breaks" : $"{here.OpenStarts} earlier starts break";
            yield return $"It could start earlier: {starts} no rule. The earliest is {DayTime(open.From)}{With(open)}. "
                + Differences(open.Goals);
        }
        else if (here.LookedBackTo is null && here.Holds is not [{ Rule: RuleId.Frozen, Until: null }])
            yield return "Every earlier start breaks at least one of these.";
        if (here.LookedBackTo is { } back)
            yield return $"Starts before {DayTime(back)} were not checked, because the time ran out.";
    }

    public IEnumerable<string> AtAll(Why why, EarliestStartExplanation all)
    {
        yield return $"No plan starts it before {DayTime(all.NotBefore)} (proven)."
            + (all.NotBefore.ToInstant() == why.From.ToInstant() ? "" : $" The earliest start found is {DayTime(all.Found)}.");
        foreach (var hold in all.Because) yield return hold.Sentence;
        if (all.MayHoldMore) yield return "The time ran out before it was proven that all of these are needed.";
        if (all.Earlier is { } plan)
            yield return $"The best plan{(all.Proven ? "" : " found")} that starts it earlier has it at "
                + $"{DayTime(plan.From)}{With(plan)}. {Differences(plan.Goals)}";
        else if (!all.Proven) yield return "No plan that starts it earlier was found in the time given. One may exist.";
    }

    public string PersonHeading(AssignmentExplanation person) => $"Instead of {words.Person(person.Person)} ({person.Skill})";

    /// <summary>The possible substitutes, without those who lack the skill.</summary>
    public static IEnumerable<Substitute> Skilled(AssignmentExplanation person) =>
        person.Others.Where(substitute => !LacksSkill(substitute));

    /// <summary>A sentence that names the people who lack the skill; null if nobody does.</summary>
    public string? Unskilled(AssignmentExplanation person)
    {
        string[] names = [.. person.Others.Where(LacksSkill).Select(substitute => Name(substitute.Person))];
        return names.Length == 0 ? null : $"Without the skill: {string.Join(", ", names)}.";
    }

    public static string Obstacles(Substitute substitute) =>
        substitute.Stopped.Count == 0 ? "breaks no rule" : string.Join(" ", substitute.Stopped.Select(hold => hold.Sentence));

    public string Cost(Substitute substitute) => substitute switch
    {
        { Goals: { } values } => Differences(values) + (substitute.Rearranged ? " Other people move too." : "")
            + (substitute.Proven ? "" : " (Best found so far.)"),
        // The proof keeps the times of the night's work; with other times it might be possible.
        { Proven: true } => "impossible with the planned times of that night's work",
        _ => "none found in the time given",
    };

    private string Differences(IReadOnlyList<GoalDifference> goals)
    {
        string[] changed = [.. goals.Where(goal => goal.Difference != 0)
            .Select(goal => $"{GoalLabels.Name(goal.Goal)}: {Difference(goal)}")];
        return changed.Length == 0 ? "No goal changes." : $"{string.Join("; ", changed)}.";
    }

    private static bool LacksSkill(Substitute substitute) =>
        substitute is { Goals: null, Proven: true, Stopped: [{ Rule: RuleId.Skill }] };

    private string Difference(GoalDifference goal)
    {
        var size = Math.Abs(goal.Difference);
        return goal.Goal == GoalId.Finish ? $"{GoalLabels.Length(size)} {(goal.Difference > 0 ? "later" : "earlier")}"
            : $"{goals.Value(goal.Goal, size)} {(goal.Difference > 0 ? "more" : "less")}";
    }

    private string With(EarlierStart start) => start.People.Count == 0 ? ""
        : $", with {WeekLabels.Join([.. start.People.Select(assigned => words.Person(assigned.Person))])}";

    private static string DayTime(OffsetDateTime time) =>
        time.LocalDateTime.ToString("ddd d MMM HH:mm", CultureInfo.InvariantCulture);
}
