using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;

namespace SetWeek.Model.Checking;

/// <summary>The gate: no plan leaves the planner, and none is published, unless this finds nothing.</summary>
public static class Checker
{
    /// <summary>
    /// Every rule instance that the plan breaks; those that only facts break are <see cref="Breaches"/>, not here.
    /// </summary>
    public static IReadOnlyList<Breach> Check(Problem problem, Schedule schedule) =>
        [.. All(problem, schedule).Where(breach => !breach.OnlyFacts)];

    /// <summary>What the facts of a re-plan already broke, whatever is planned now: <see cref="Plan.Breaches"/>.</summary>
    public static IReadOnlyList<Breach> Breaches(Problem problem, Schedule schedule) =>
        problem.Facts is null ? [] : [.. All(problem, schedule).Where(breach => breach.OnlyFacts)];

    private static IEnumerable<Breach> All(Problem problem, Schedule schedule) =>
        AllRules.InOrder.SelectMany(rule => rule.Check(problem, schedule));
}
