using SetWeek.Bench.Instances;
using SetWeek.Model.Plans;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Reference;

/// <summary>
/// Projects as weeks, compared with the optimum of the independent reference model: small ones written here, and published
/// instances that are easy enough for it (j30 of Kolisch and Sprecher 1997, with plentiful resources).
/// </summary>
public sealed class ReferenceProjectTests
{
    private static readonly SearchLimits Enough = new() { Effort = 30, Workers = 1 };

    /// <summary>Six activities and a scarce resource. The longest path, a, c, d, takes 9.</summary>
    [MiniZincTheory]
    [InlineData(4), InlineData(5), InlineData(6)]
    public Task A_small_project_with_a_scarce_resource_has_the_reference_optimum(int units) =>
        AssertSameOptimum(ProjectWeek.Of("small",
    [
        WithEquipment("a", 3, 2), WithEquipment("b", 4, 3), WithEquipment("c", 2, 2, "a"), WithEquipment("d", 4, 2, "c"),
            WithEquipment("e", 1, 3, "b"),
        WithEquipment("f", 3, 1, "a", "b"),
    ], [], [new Equipment("r1", units)]));

    /// <summary>Three people and two skills, with first or two people who have both.</summary>
    [MiniZincTheory]
    [InlineData(1), InlineData(2)]
    public Task A_small_multi_skill_project_has_the_reference_optimum(int both) => AssertSameOptimum(ProjectWeek.Of("team",
    [
        WithPeople("a", 3, 1, 1), WithPeople("b", 2, 2, 0), WithPeople("c", 4, 0, 1, "a"), WithPeople("d", 2, 1, 1, "b"),
            WithPeople("e", 3, 1, 0),
    ],
    [
        .. Enumerable.Range(0, 3)
            .Select(index => ProjectWeek.Worker($"p{index}", index < both ? new Dictionary<string, int> { ["s1"] = 1, ["s2"] = 1 }
            : new() { [index == 2 ? "s2" : "s1"] = 1 })),
    ], []));

    [MiniZincTheory("rcpsp/j30")]
    [InlineData("j304_1"), InlineData("j308_4"), InlineData("j3012_3"), InlineData("j3020_5")]
    public Task A_published_project_with_plentiful_resources_has_the_reference_optimum(string name) =>
        AssertSameOptimum(ProjectInstance.Read(name.Replace('_', '-'),
            File.ReadAllText(OpenData.PathOf($"rcpsp/j30/{name}.sm"))));

    private static async Task AssertSameOptimum(Week week)
    {
        var plan = Planner.Plan(week, Enough);
        var minimum = await MiniZinc.Minimum("week.mzn", new MiniZincData(week)
            .For(GoalId.Finish, new Dictionary<GoalId, long>()));
        Assert.Equal((PlanStatus.Optimal, minimum), (plan.Status, plan.Goals.Single().Value));
    }

    private static ProjectWeek.ProjectActivity WithEquipment(string id, int minutes, int units, params string[] after) =>
        new(id, minutes, [], [new EquipmentUse("r1", units)], after);

    private static ProjectWeek.ProjectActivity WithPeople(string id, int minutes, int first, int second, params string[] after) =>
        new(id, minutes, [.. new[] { new SkillRequirement("s1", first), new SkillRequirement("s2", second) }.Where(role =>
            role.People > 0)], [], after);
}
