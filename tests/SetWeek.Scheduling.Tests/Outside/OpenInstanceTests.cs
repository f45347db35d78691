using System.Globalization;
using SetWeek.Bench.Instances;

namespace SetWeek.Scheduling.Tests.Outside;

/// <summary>
/// Open instances of project scheduling, through the same entry that weeks use, to their published optimum: j30 of Kolisch and
/// Sprecher (1997); several people a task of Young, Feydy and Schutt (2017). Best known values: the files' own lists.
/// </summary>
public class OpenInstanceTests
{
    private static readonly Limits Enough = new() { Time = TimeSpan.FromSeconds(60), Workers = 2 };

    [OpenDataTheory("rcpsp/j30")]
    [InlineData("j301_1"), InlineData("j301_2"), InlineData("j306_1"), InlineData("j3010_5"), InlineData("j3016_3"), InlineData("j3022_7"), InlineData("j3041_2"), InlineData("j3048_3")]
    public void A_project_with_scarce_resources_reaches_its_proven_optimum(string name)
    {
        var (best, closed) = Known("rcpsp/j30.csv", row => row[0] == name, value: 4, proven: 5);
        Assert.True(closed);
        Proves(best, ProjectInstance.Read(name.Replace('_', '-'), File.ReadAllText(OpenData.PathOf($"rcpsp/j30/{name}.sm"))));
    }

    [OpenDataTheory("multiskill/mspsp")]
    [InlineData("set-1a", 0), InlineData("set-1a", 7), InlineData("set-2b", 3), InlineData("set-2c", 5)]
    public void A_project_with_several_people_a_task_reaches_its_proven_optimum(string set, int index)
    {
        var proven = File.ReadLines(OpenData.PathOf("multiskill/mspsp.csv")).Select(line => line.Split(',')).Where(row => row[0] == set && row[7] == "1").ElementAt(index);
        Proves(int.Parse(proven[6], CultureInfo.InvariantCulture),
            TeamInstance.Read("instance", File.ReadAllText(OpenData.PathOf($"multiskill/mspsp/{set}/{proven[1]}.dzn"))));
    }

    private static void Proves(int best, Week week)
    {
        var plan = Planner.Plan(week, Enough);
        Assert.Equal((PlanStatus.Optimal, best), (plan.Status, plan.Goals.Single().Value));
    }

    private static (int Best, bool Closed) Known(string list, Func<string[], bool> which, int value, int proven)
    {
        var row = File.ReadLines(OpenData.PathOf(list)).Select(line => line.Split(',')).Single(which);
        return (int.Parse(row[value], CultureInfo.InvariantCulture), row[proven] == "1");
    }
}
