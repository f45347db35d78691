using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Comparing;

/// <summary>Two plans side by side.</summary>
/// <param name="Against">
/// What the plan is compared with: the one <see cref="Published"/>, or one of the week <see cref="AsItStands"/>.
/// </param>
/// <param name="Goals">Those asked, in their order, each plan's measured by the facts of its own week.</param>
/// <param name="Changes">What moves, what it would cost and, of a plan that people have, who would have to be told.</param>
public sealed record Difference(string Against, IReadOnlyList<GoalDifference> Goals, PlanChanges Changes)
{
    public const string Published = "published", AsItStands = "asItStands";

    /// <summary>Null where there is no plan on one side.</summary>
    public static Difference? Of(Week week, Plan was, Week changed, Plan now, Replan? replan)
    {
        if (was.Nights.Count == 0 || now.Nights.Count == 0) return null;
        var (before, after) = (Problem.Of(week, replan), Problem.Of(changed, replan));
        var changes = PlanChanges.Between(after, was, now);
        return new Difference(replan is null ? AsItStands : Published, [.. after.Goals.Select(choice => new GoalDifference(
            choice.Goal, Claims.Measure(before, was, choice.Goal), Claims.Measure(after, now, choice.Goal)))],
            replan is null ? changes with { Told = [] } : changes);
    }
}
