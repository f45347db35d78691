using SetWeek.Bench.Instances;
using SetWeek.Model.Plans;
using SetWeek.Model.Tests;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Benchmarks;

/// <summary>
/// Open instances through the same entry that weeks use: of the benchmarks' fixed sample every third, teams of up to 20 tasks
/// alone, those whose optimum is proven. Sets: j30 of Kolisch and Sprecher (1997); several people a task of Young, Feydy and
/// Schutt (2017), Montoya et al. (2014) and Almeida et al. (2015). Optima: the sets' own lists, best lower and upper bounds
/// known in 2023 and the results of Young, Feydy and Schutt.
/// </summary>
public class OpenInstanceTests
{
    /// <summary>Larger teams are for the benchmark: on a busy machine they take many seconds each.</summary>
    private const int MostTasks = 20;

    private static readonly SearchLimits Short = new() { Effort = 3, Workers = 1 };

    public static TheoryData<string> ClosedProjects =>
        Named(() => OpenSets.Projects(OpenData.PathOf("rcpsp")).Where(one => one.Set == "j30"));

    public static TheoryData<string> ClosedTeams =>
        Named(() => OpenSets.Teams(OpenData.PathOf("multiskill"))
            .Where(one => one.Set != "d36" && one.Read().Tasks.Count <= MostTasks));

    [OpenDataTheory("rcpsp/j30"), MemberData(nameof(ClosedProjects))]
    public void A_project_with_scarce_resources_is_as_short_as_it_is_proven_to_be(string name) =>
        Matches(OpenSets.Projects(OpenData.PathOf("rcpsp")).Single(one => one.Name == name));

    [OpenDataTheory("multiskill/mspsp"), MemberData(nameof(ClosedTeams))]
    public void A_project_with_several_people_a_task_is_within_a_tenth_of_its_proven_optimum(string name) =>
        Matches(OpenSets.Teams(OpenData.PathOf("multiskill")).Single(one => one.Name == name), withinPercent: 10);

    private static void Matches(OpenInstance instance, int withinPercent = 0)
    {
        var plan = Planner.Plan(instance.Read(), Short);
        var finish = plan.Goals.Single();
        Assert.InRange(finish.Value, instance.Best, instance.Best + instance.Best * withinPercent / 100);
        Assert.InRange(finish.Bound!.Value, 0, instance.Best);
        Assert.Equal(finish.Bound == finish.Value, plan.Status == PlanStatus.Optimal);
    }

    private static TheoryData<string> Named(Func<IEnumerable<OpenInstance>> all) => OpenData.Folder is null ? new("none")
        : new(OpenSets.Sample(all(), 3).Where(one => one.Closed).Select(one => one.Name));
}
