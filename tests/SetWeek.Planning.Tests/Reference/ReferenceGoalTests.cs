using SetWeek.Model.Plans;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Reference;

/// <summary>
/// The reference model measures the goals bare, handovers and shuffled as the planner does. Each of these weeks is best finished
/// at another time if the goal comes before finish than if it comes after it. Both optima are derived by hand, and both the
/// reference and the planner must find them.
/// </summary>
public sealed class ReferenceGoalTests
{
    private static readonly SearchLimits Enough = new() { Effort = 20, Workers = 1 };

    /// <summary>Two nights from 22:00 to 02:00 on a grid of half an hour; everybody is available.</summary>
    private static readonly TinyWeek Week = TinyWeek.New.With(week => week with
    {
        GridMinutes = 30,
        Nights = [.. week.Nights.Take(2).Select(night => night with { Closes = night.Opens.PlusHours(4) })],
        Crew = [.. week.Crew.Select(member => member with { Available = [new("mon"), new("tue")] })],
    });

    /// <param name="GoalFirst">Values of the goal and of finish where the goal comes first.</param>
    /// <param name="FinishFirst">Values of the goal and of finish where finish comes first.</param>
    private sealed record Case(TinyWeek Week, (long Goal, long Finish) GoalFirst, (long Goal, long Finish) FinishFirst)
    {
        public TinyPlan? Published { get; init; }
    }

    private static readonly Dictionary<GoalId, Case> Cases = new()
    {
        // What fills the wall comes on Tuesday. Stripped on Monday, the wall is bare for a day of trade.
        [GoalId.Bare] = new(Week.Kit("props", "2027-03-09T22:00").Zone("wall", zone => zone with { TradePerDay = 500 })
            .Task("strip", 60, task => task with { Empties = true })
            .Task("fill", 60, task => task with { Fills = true, After = [new("strip")], Needs = [new("props")] }),
            GoalFirst: (0, 1440 + 120), FinishFirst: (500, 1440 + 60)),
        // Ana leaves at 23:00, when Bo comes. Cy could do both stints, but comes half an hour after Ana.
        [GoalId.Handovers] = new(Week.Person("ana", member => member with { Available = [Until("2027-03-08T23:00")] })
            .Person("bo", member => member with { Available = [new("mon", TinyWeek.Local("2027-03-08T23:00"))] })
            .Person("cy", member => member with { Available = [new("mon", TinyWeek.Local("2027-03-08T22:30"))] })
            .Task("a", 120, task => task with { Stints = 2 }),
            GoalFirst: (0, 150), FinishFirst: (1, 120)),
        // Published for 23:00, a may start half an hour earlier without counting. Bo cannot come on Monday after all: whoever
        // else does b then counts, and its night does not.
        [GoalId.Shuffled] = new(Replanned.Person("bo", member => member with { Available = [new("tue")] }),
            GoalFirst: (0, 1440 + 60), FinishFirst: (2, 60))
            {
                Published = Replanned.Plan.Shift("mon", "ana", "22:00", "02:00").Shift("mon", "bo", "22:00", "02:00")
                    .Work("mon", "a", "23:00", "00:00", "ana").Work("mon", "b", "22:00", "23:00", "bo"),
            },
    };

    public static TheoryData<GoalId> Goals => new(Cases.Keys);

    private static TinyWeek Replanned => Week.Task("a", 60).Task("b", 60);

    [MiniZincTheory, MemberData(nameof(Goals))]
    public async Task Reference_and_planner_find_the_derived_optima_with_the_goal_before_finish_and_after_it(GoalId goal)
    {
        var test = Cases[goal];
        Assert.NotEqual(test.GoalFirst.Finish, test.FinishFirst.Finish);
        await AssertOptimum(test, [(goal, test.GoalFirst.Goal), (GoalId.Finish, test.GoalFirst.Finish)]);
        await AssertOptimum(test, [(GoalId.Finish, test.FinishFirst.Finish), (goal, test.FinishFirst.Goal)]);
    }

    private static async Task AssertOptimum(Case test, (GoalId Goal, long Value)[] expected)
    {
        GoalChoice[] goals = [.. expected.Select(pair => new GoalChoice(pair.Goal))];
        var week = test.Week.Week with { Goals = goals, ReplanGoals = goals };
        var published = test.Published?.AsPlan;
        var (data, optimum) = (new MiniZincData(week, published), new Dictionary<GoalId, long>());
        foreach (var (goal, _) in expected)
            optimum[goal] = await MiniZinc.Minimum("week.mzn", data.For(goal, optimum)) ?? -1;
        Assert.Equal(expected, optimum.Select(pair => (pair.Key, pair.Value)));
        var replan = published is null ? null : new Replan(published, TinyWeek.Local("2027-03-08T12:00"), []);
        var plan = Planner.Plan(week, Enough, replan);
        Assert.Equal(PlanStatus.Optimal, plan.Status);
        Assert.Equal(expected, plan.Goals.Select(value => (value.Goal, value.Value)));
    }

    private static Availability Until(string time) => new("mon", To: TinyWeek.Local(time));
}
