using SetWeek.Model.Weeks;
namespace SetWeek.Planning.Replanning;

internal sealed class EarliestFinish : IOptionKind
{
    public string Id => "earliest-finish";

    public OptionSpecification For(ReplanSituation situation) => new("Done soonest",
        "An early end of the work comes first, for more time in hand before launch.",
        OptionSpecification.WithGoalFirst(situation.Problem.Week, GoalId.Finish));
}
