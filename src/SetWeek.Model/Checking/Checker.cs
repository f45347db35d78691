using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;

namespace SetWeek.Model.Checking;

/// <summary>The gate: no plan leaves the planner, and none is published, unless this finds nothing.</summary>
public static class Checker
{
    /// <summary>
    /// Every rule instance that the plan breaks; those that only facts break are <see cref="UnavoidableBreaches"/>, not here.
    /// </summary>
    public static IReadOnlyList<Breach> Check(Problem problem, Schedule schedule) =>
        [.. AllBreaches(problem, schedule).Where(breach => !breach.IsUnavoidable)];

    /// <summary>What the facts of a re-plan already broke, whatever is planned now: <see cref="Plan.Breaches"/>.</summary>
    public static IReadOnlyList<Breach> UnavoidableBreaches(Problem problem, Schedule schedule) =>
        problem.Facts is null ? [] : [.. AllBreaches(problem, schedule).Where(breach => breach.IsUnavoidable)];

    private static IEnumerable<Breach> AllBreaches(Problem problem, Schedule schedule) =>
        AllRules.InOrder.SelectMany(rule => rule.Check(problem, schedule));
}
