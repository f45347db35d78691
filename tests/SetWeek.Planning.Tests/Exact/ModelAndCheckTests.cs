using SetWeek.Model.Problems;

namespace SetWeek.Planning.Tests.Exact;

/// <summary>
/// The exact model and the checker are written independently. These tests compare them on random weeks and re-plans: the checker
/// accepts every solution of the model, and no plan that the checker accepts is better than the model's optimum.
/// </summary>
public class ModelAndCheckTests
{
    private const int Count = 40;

    public static TheoryData<int> Seeds { get; } = [.. Enumerable.Range(0, Count)];

    [Theory, MemberData(nameof(Seeds))]
    public void The_checker_accepts_every_solution_of_a_week(int seed) =>
        CpOptimum.Best(Problem.Of(RandomWeeks.Make(seed, tiny: false)));

    [Theory, MemberData(nameof(Seeds))]
    public void No_plan_of_a_week_is_better_than_the_models_optimum(int seed) =>
        AssertSameOptimum(Problem.Of(RandomWeeks.Make(seed, tiny: true)));

    [Theory, MemberData(nameof(Seeds))]
    public void The_checker_accepts_every_solution_of_a_replan(int seed)
    {
        if (RandomReplans.Make(seed, tiny: false) is { } problem) CpOptimum.Best(problem);
    }

    [Theory, MemberData(nameof(Seeds))]
    public void No_replan_is_better_than_the_models_optimum(int seed)
    {
        if (RandomReplans.Make(seed, tiny: true) is { } problem
            && PlanEnumeration.SizeOf(problem) < 2e4) AssertSameOptimum(problem);
    }

    [Fact]
    public void The_random_weeks_are_neither_all_feasible_nor_all_infeasible()
    {
        var seeds = Enumerable.Range(0, Count).ToArray();
        Assert.InRange(seeds.Count(seed => CpOptimum.Best(Problem.Of(RandomWeeks.Make(seed, tiny: true))) is not null), 10, 35);
        Assert.InRange(seeds.Count(seed => RandomReplans.Make(seed, tiny: true) is not null), 8, 35);
    }

    private static void AssertSameOptimum(Problem problem)
    {
        var (enumerated, optimum) = (PlanEnumeration.BestOf(problem), CpOptimum.Best(problem));
        Assert.Equal(enumerated is null, optimum is null);
        Assert.Equal(enumerated ?? [], optimum ?? []);
    }
}
