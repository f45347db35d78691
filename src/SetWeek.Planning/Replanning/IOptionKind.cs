using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Replanning;

/// <summary>A kind of option, for example the cheapest plan.</summary>
internal interface IOptionKind
{
    string Id { get; }

    /// <summary>The problem to solve for this kind; null if the kind does not apply.</summary>
    OptionSpecification? For(ReplanSituation situation);
}

/// <summary>The problem that the planner solves for an option.</summary>
/// <param name="Name">See <see cref="Option.Name"/>.</param>
/// <param name="Sentence">See <see cref="Option.Sentence"/>.</param>
/// <param name="Week">
/// The week with its goals in another order, or with more rules. Rules are never removed, so every plan of it is a plan of the
/// original week.
/// </param>
/// <param name="AddsRules">True if rules were added. Bounds on its goals then do not hold for the original week.</param>
internal sealed record OptionSpecification(string Name, string Sentence, Week Week, bool AddsRules = false)
{
    /// <summary>Puts a goal first, or directly after the goal of displays left out if the week has that one.</summary>
    public static Week WithGoalFirst(Week week, GoalId goal)
    {
        var chosen = week.ReplanGoals.FirstOrDefault(choice => choice.Goal == goal) ?? new GoalChoice(goal);
        var others = week.ReplanGoals.Where(choice => choice.Goal != goal).ToList();
        var first = others.FindIndex(choice => choice.Goal == GoalId.LeftOut) + 1;
        return week with { ReplanGoals = [.. others.Take(first), chosen, .. others.Skip(first)] };
    }
}
