using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Replanning;

/// <summary>The plan with the lowest wages, whatever it changes.</summary>
internal sealed class Cheapest : IOptionKind
{
    public string Id => "cheapest";

    public OptionSpecification For(ReplanSituation situation) => new("Lowest wages",
        "Wages are as low as possible, even if more of the published plan changes.",
        OptionSpecification.WithGoalFirst(situation.Problem.Week, GoalId.Cost));
}
