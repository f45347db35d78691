using SetWeek.Scheduling.Search;

namespace SetWeek.Scheduling.Rules;

/// <summary>
/// A rule of the planner: the constraint that it posts, the check of a finished plan, the sentence that says it. The check
/// is written from the rule's definition, apart from the constraint, and shares no code with it.
/// </summary>
internal interface IRule
{
    /// <summary>The id that conflicts, tests, docs and pages use.</summary>
    string Id { get; }

    void Post(ExactModel model);

    /// <summary>Every instance that does not hold; none for a good plan.</summary>
    IEnumerable<Breach> Check(Problem problem, Schedule schedule);
}
