using SetWeek.Model.Weeks;
namespace SetWeek.Planning.Replanning;

internal sealed class Cheapest : IOptionKind
{
    public string Id => "cheapest";

    public OptionSpecification For(ReplanSituation situation) => new("Least wages",
        "Low wages come first; for them, people are told of more changes.",
        OptionSpecification.WithGoalFirst(situation.Problem.Week, GoalId.Cost));
}
