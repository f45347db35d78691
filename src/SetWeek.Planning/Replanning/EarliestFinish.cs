using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Replanning;

/// <summary>The plan whose last work ends earliest.</summary>
internal sealed class EarliestFinish : IOptionKind
{
    public string Id => "earliest-finish";

    public OptionSpecification For(ReplanSituation situation) => new("Earliest finish",
        "Work ends as early as possible, which leaves more time before the launch.",
        OptionSpecification.WithGoalFirst(situation.Problem.Week, GoalId.Finish));
}
