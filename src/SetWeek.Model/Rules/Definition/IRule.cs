using SetWeek.Model.Plans;
using SetWeek.Model.Problems;

namespace SetWeek.Model.Rules.Definition;

/// <summary>
/// A rule: its id, the check of a finished schedule, and a sentence for each instance that the schedule breaks. The check
/// follows the rule's definition alone. The constraints that the planner posts for the rule are in an assembly that this one
/// cannot see, so the two share no code.
/// </summary>
internal interface IRule
{
    /// <summary>The id by which conflicts, tests, documentation and pages name the rule.</summary>
    RuleId Id { get; }

    /// <summary>Every instance that does not hold, those that facts already broke included.</summary>
    IEnumerable<Breach> Check(Problem problem, Schedule schedule);
}
