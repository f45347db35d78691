using SetWeek.Bench.Instances;
using SetWeek.Model.Plans;
using SetWeek.Model.Tests;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Benchmarks;

/// <summary>
/// Published instances solved by the planner. They are every third of the benchmarks' fixed sample, those with a proven optimum
/// and, of the multi-skill sets, with at most 20 tasks. Sets: j30 of Kolisch and Sprecher (1997); multi-skill instances of
/// Young, Feydy and Schutt (2017), Montoya et al. (2014) and Almeida et al. (2015). Optima: the lists of the sets, the best
/// bounds known in 2023 and the results of Young, Feydy and Schutt.
/// </summary>
public class OpenInstanceTests
{
    /// <summary>Larger instances take many seconds each and are left to the benchmark.</summary>
    private const int MaxTasks = 20;

    private static readonly SearchLimits Short = new() { Effort = 3, Workers = 1 };

    public static TheoryData<string> ClosedProjects =>
        Named(() => OpenSets.Projects(OpenData.PathOf("rcpsp")).Where(instance => instance.Set == "j30"));

    public static TheoryData<string> ClosedTeams =>
        Named(() => OpenSets.Teams(OpenData.PathOf("multiskill"))
            .Where(instance => instance.Set != "d36" && instance.Read().Tasks.Count <= MaxTasks));

    [OpenDataTheory("rcpsp/j30"), MemberData(nameof(ClosedProjects))]
    public void A_project_with_scarce_resources_has_its_proven_optimum(string name) =>
        AssertMatches(OpenSets.Projects(OpenData.PathOf("rcpsp")).Single(instance => instance.Name == name));

    [OpenDataTheory("multiskill/mspsp"), MemberData(nameof(ClosedTeams))]
    public void A_multi_skill_project_is_within_a_tenth_of_its_proven_optimum(string name) =>
        AssertMatches(OpenSets.Teams(OpenData.PathOf("multiskill")).Single(instance => instance.Name == name), withinPercent: 10);

    private static void AssertMatches(OpenInstance instance, int withinPercent = 0)
    {
        var plan = Planner.Plan(instance.Read(), Short);
        var finish = plan.Goals.Single();
        Assert.InRange(finish.Value, instance.Best, instance.Best + instance.Best * withinPercent / 100);
        Assert.InRange(finish.Bound!.Value, 0, instance.Best);
        Assert.Equal(finish.Bound == finish.Value, plan.Status == PlanStatus.Optimal);
    }

    private static TheoryData<string> Named(Func<IEnumerable<OpenInstance>> all) => OpenData.Folder is null ? new("none")
        : new(OpenSets.Sample(all(), 3).Where(instance => instance.Closed).Select(instance => instance.Name));
}
