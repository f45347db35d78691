using SetWeek.Model.Goals;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Replanning;

/// <summary>
/// The plan that reaches the chance asked for, whatever it changes. A week in which that chance is not at stake has none.
/// </summary>
internal sealed class Surest : IOptionKind
{
    public string Id => "surest";

    public OptionSpecification? For(ReplanSituation situation) => !HoldGoal.IsAtStake(situation.Problem) ? null : new("Surest",
        "The plan holds as often as possible, up to the chance asked for, even if more of the published plan changes.",
        OptionSpecification.WithGoalFirst(situation.Problem.Week, GoalId.Hold));
}
