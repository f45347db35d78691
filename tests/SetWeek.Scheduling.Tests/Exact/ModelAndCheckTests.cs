using Xunit;

namespace SetWeek.Scheduling.Tests.Exact;

/// <summary>The exact model and the check are written apart; here they have to agree.</summary>
public class ModelAndCheckTests
{
    public static TheoryData<int> Seeds { get; } = [.. Enumerable.Range(0, 40)];

    [Theory, MemberData(nameof(Seeds))]
    public void The_check_takes_every_plan_of_the_model_and_measures_what_the_model_proved(int seed) =>
        Solved.Best(Problem.Of(ChanceWeeks.Make(seed, tiny: false)));

    [Theory, MemberData(nameof(Seeds))]
    public void No_plan_at_all_is_better_than_the_models_best(int seed)
    {
        var problem = Problem.Of(ChanceWeeks.Make(seed, tiny: true));
        Assert.Equal(EveryPlan.BestOf(problem), Solved.Best(problem));
    }
}
