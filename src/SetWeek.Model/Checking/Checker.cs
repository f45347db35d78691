using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;

namespace SetWeek.Model.Checking;

/// <summary>
/// Checks a finished schedule against every rule. The planner returns, and the service publishes, only plans without
/// breaches.
/// </summary>
public static class Checker
{
    /// <summary>
    /// Every rule instance that the schedule breaks, in the order of the rules. Instances that facts of a re-plan already
    /// broke are not included; <see cref="UnavoidableBreaches"/> gives those.
    /// </summary>
    public static IReadOnlyList<Breach> Check(Problem problem, Schedule schedule) =>
        [.. AllBreaches(problem, schedule).Where(breach => !breach.IsUnavoidable)];

    /// <summary>
    /// Every rule instance that facts of a re-plan already broke, whatever is planned now; none for a first plan.
    /// </summary>
    public static IReadOnlyList<Breach> UnavoidableBreaches(Problem problem, Schedule schedule) =>
        problem.Facts is null ? [] : [.. AllBreaches(problem, schedule).Where(breach => breach.IsUnavoidable)];

    private static IEnumerable<Breach> AllBreaches(Problem problem, Schedule schedule) =>
        AllRules.InOrder.SelectMany(rule => rule.Check(problem, schedule));
}
