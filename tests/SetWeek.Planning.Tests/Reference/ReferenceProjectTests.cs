using SetWeek.Bench.Instances;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;
using SetWeek.Planning.Tests.Outside;

namespace SetWeek.Planning.Tests.Reference;

/// <summary>
/// Projects as weeks, to the optimum that the model written apart proves: small ones written here, and open instances easy
/// enough for it (j30 of Kolisch and Sprecher 1997, of those with plenty of resources).
/// </summary>
public sealed class ReferenceProjectTests
{
    private static readonly SearchLimits Enough = new() { Effort = 30, Workers = 1 };

    /// <summary>Six activities and a resource of few units: the longest path, a, c, d, is 9.</summary>
    [MiniZincTheory]
    [InlineData(4), InlineData(5), InlineData(6)]
    public Task A_small_project_with_one_scarce_resource(int units) => Agrees(ProjectWeek.Of("small",
    [
        Piece("a", 3, 2), Piece("b", 4, 3), Piece("c", 2, 2, "a"), Piece("d", 4, 2, "c"), Piece("e", 1, 3, "b"),
        Piece("f", 3, 1, "a", "b"),
    ], [], [new Equipment("r1", units)]));

    /// <summary>Three people of two skills, one who has both: whoever is used up by one task is missed at the next.</summary>
    [MiniZincTheory]
    [InlineData(1), InlineData(2)]
    public Task A_small_project_with_several_people_a_task(int both) => Agrees(ProjectWeek.Of("team",
    [
        Team("a", 3, 1, 1), Team("b", 2, 2, 0), Team("c", 4, 0, 1, "a"), Team("d", 2, 1, 1, "b"), Team("e", 3, 1, 0),
    ],
    [
        .. Enumerable.Range(0, 3)
            .Select(at => ProjectWeek.Worker($"p{at}", at < both ? new Dictionary<string, int> { ["s1"] = 1, ["s2"] = 1 }
            : new() { [at == 2 ? "s2" : "s1"] = 1 })),
    ], []));

    [MiniZincTheory("rcpsp/j30")]
    [InlineData("j304_1"), InlineData("j308_4"), InlineData("j3012_3"), InlineData("j3020_5")]
    public Task An_open_project_with_resources_enough(string name) =>
        Agrees(ProjectInstance.Read(name.Replace('_', '-'), File.ReadAllText(OpenData.PathOf($"rcpsp/j30/{name}.sm"))));

    private static async Task Agrees(Week week)
    {
        var plan = Planner.Plan(week, Enough);
        var least = await MiniZinc.Minimum("week.mzn", new MiniZincData(week).For(GoalId.Finish, new Dictionary<GoalId, long>()));
        Assert.Equal((PlanStatus.Optimal, least), (plan.Status, plan.Goals.Single().Value));
    }

    private static ProjectWeek.ProjectActivity Piece(string id, int minutes, int units, params string[] after) =>
        new(id, minutes, [], [new EquipmentUse("r1", units)], after);

    private static ProjectWeek.ProjectActivity Team(string id, int minutes, int one, int other, params string[] after) =>
        new(id, minutes, [.. new[] { new SkillRequirement("s1", one), new SkillRequirement("s2", other) }.Where(role => role.People > 0)], [], after);
}
