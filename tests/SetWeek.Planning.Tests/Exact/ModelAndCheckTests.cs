using SetWeek.Model.Problems;

namespace SetWeek.Planning.Tests.Exact;

/// <summary>
/// The exact model and the check are written apart; here they have to agree, on weeks and re-plans made by chance: the check
/// takes every plan of the model, and of all the plans that the check takes none is better than the model's best.
/// </summary>
public class ModelAndCheckTests
{
    private const int Count = 40;

    public static TheoryData<int> Seeds { get; } = [.. Enumerable.Range(0, Count)];

    [Theory, MemberData(nameof(Seeds))]
    public void The_check_takes_every_plan_of_a_week(int seed) => CpOptimum.Best(Problem.Of(RandomWeeks.Make(seed, tiny: false)));

    [Theory, MemberData(nameof(Seeds))]
    public void No_plan_of_a_week_is_better_than_the_models_best(int seed) =>
        Agrees(Problem.Of(RandomWeeks.Make(seed, tiny: true)));

    [Theory, MemberData(nameof(Seeds))]
    public void The_check_takes_every_replan(int seed)
    {
        if (RandomReplans.Make(seed, tiny: false) is { } problem) CpOptimum.Best(problem);
    }

    [Theory, MemberData(nameof(Seeds))]
    public void No_replan_is_better_than_the_models_best(int seed)
    {
        if (RandomReplans.Make(seed, tiny: true) is { } problem && PlanEnumeration.SizeOf(problem) < 2e4) Agrees(problem);
    }

    [Fact]
    public void The_chance_weeks_are_not_all_alike()
    {
        var seeds = Enumerable.Range(0, Count).ToArray();
        Assert.InRange(seeds.Count(seed => CpOptimum.Best(Problem.Of(RandomWeeks.Make(seed, tiny: true))) is not null), 10, 35);
        Assert.InRange(seeds.Count(seed => RandomReplans.Make(seed, tiny: true) is not null), 8, 35);
    }

    private static void Agrees(Problem problem)
    {
        var (all, best) = (PlanEnumeration.BestOf(problem), CpOptimum.Best(problem));
        Assert.Equal(all is null, best is null);
        Assert.Equal(all ?? [], best ?? []);
    }
}
