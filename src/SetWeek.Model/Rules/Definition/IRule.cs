using SetWeek.Model.Plans;
using SetWeek.Model.Problems;

namespace SetWeek.Model.Rules.Definition;

/// <summary>
/// A rule: its id, the check of a finished plan, and the sentence for each instance that a plan breaks. The check is written
/// from the rule's definition alone. The constraint that the planner posts for the rule lies in an assembly that this one
/// cannot see.
/// </summary>
internal interface IRule
{
    /// <summary>The id that conflicts, tests, docs and pages use.</summary>
    RuleId Id { get; }

    /// <summary>Every instance that does not hold; none for a good plan.</summary>
    IEnumerable<Breach> Check(Problem problem, Schedule schedule);
}
