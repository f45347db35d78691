namespace SetWeek.Scheduling.Changes;

/// <summary>What would come of changes to a week: planned like any other, and set beside what there is without them.</summary>
/// <param name="Week">The week with the changes made.</param>
/// <param name="Plan">Its plan, or why there is none.</param>
/// <param name="Difference">Null where there is no plan to compare, on either side.</param>
public sealed record WhatIf(Week Week, Plan Plan, Difference? Difference)
{
    /// <summary>
    /// Once a plan is published, the changed week is re-planned and compared with that plan, which people have. Before, both
    /// weeks are planned, each with half of what may be used, so that neither looks better for having been looked at longer.
    /// </summary>
    /// <param name="week">As it stands.</param>
    /// <param name="changed">With the changes made; valid too.</param>
    /// <param name="limits">For all of it.</param>
    /// <param name="replan">The published plan and the facts since, which fit both weeks; null before the first.</param>
    /// <param name="stop">Obeyed within 200 ms.</param>
    public static WhatIf Of(Week week, Week changed, Limits limits, Replan? replan, CancellationToken stop = default)
    {
        if (replan is not null)
        {
            var again = Planner.Plan(changed, limits, replan, stop: stop);
            return new WhatIf(changed, again, Difference.Of(week, replan.Published, changed, again, replan));
        }
        var half = limits with { Time = limits.Time / 2, Effort = limits.Effort / 2 };
        var without = Planner.Plan(week, half, stop: stop);
        var with = Planner.Plan(changed, half, stop: stop);
        return new WhatIf(changed, with, Difference.Of(week, without, changed, with, null));
    }
}

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
