using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Replanning;

/// <summary>A kind of option: how it directs the planner.</summary>
internal interface IOptionKind
{
    string Id { get; }

    /// <summary>Null where there is no such option.</summary>
    OptionSpecification? For(ReplanSituation situation);
}

/// <summary>What the planner is asked for.</summary>
/// <param name="Week">
/// The week with its goals in another order, or with rules added, never with one less: so that a plan of it is a plan of the
/// week.
/// </param>
/// <param name="AddsRules">Rules were added: what is proven of its goals is proven of fewer plans than the week has.</param>
internal sealed record OptionSpecification(string Name, string Sentence, Week Week, bool AddsRules = false)
{
    /// <summary>What is left out first, as the week has it, then the goal, then the others in their order.</summary>
    public static Week WithGoalFirst(Week week, GoalId goal)
    {
        var chosen = week.ReplanGoals.FirstOrDefault(choice => choice.Goal == goal) ?? new GoalChoice(goal);
        var others = week.ReplanGoals.Where(choice => choice.Goal != goal).ToList();
        var first = others.FindIndex(choice => choice.Goal == GoalId.LeftOut) + 1;
        return week with { ReplanGoals = [.. others.Take(first), chosen, .. others.Skip(first)] };
    }
}
