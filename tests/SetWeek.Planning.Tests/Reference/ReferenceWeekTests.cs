using CsCheck;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;
using SetWeek.Planning.Tests.Generated;

namespace SetWeek.Planning.Tests.Reference;

/// <summary>
/// Small weeks whose proven optimum a model written apart must share, goal by goal (week.mzn, which says which rules it
/// holds): what the planner forbids too much it would miss, what it allows too much it would undercut.
/// </summary>
public sealed class ReferenceWeekTests
{
    private static readonly SearchLimits Enough = new() { Effort = 30, Workers = 1 };

    /// <summary>Two nights of four hours on a grid of half an hour: Gecode proves such a week in a moment.</summary>
    private static readonly TinyWeek Week = TinyWeek.New.With(week => week with
    {
        GridMinutes = 30,
        Nights = [.. week.Nights.Take(2).Select(night => night with { Closes = night.Opens.PlusHours(4) })],
        Crew = [.. week.Crew
            .Select((member, at) => member with { RatePerHour = 1200 - 100 * at, Available = [new("mon"), new("tue")] })],
    });

    /// <summary>The first of them alone.</summary>
    private static readonly TinyWeek Evening = Week.With(week => week with
    {
        Nights = [week.Nights[0]], Crew = [.. week.Crew.Select(member => member with { Available = [new("mon")] })],
    });

    private static readonly Dictionary<string, TinyWeek> Weeks = new()
    {
        ["order, drying and room"] = Goals(Evening.Zone("wall", zone => zone with { MaxPeople = 1 })
            .Task("a", 60).Task("b", 90).Task("c", 30, "a", dry: 60), GoalId.Finish, GoalId.Cost),
        ["a coat that dries through the day"] =
            Goals(Week.Person("cy", Never).Task("a", 120).Task("b", 60, "a", dry: 120), GoalId.Finish, GoalId.Cost),
        ["one ladder, and secured in the same night"] = Goals(Evening.Equipment("ladder", 1).Task("a", 90, OnLadder)
            .Task("b", 90, OnLadder).Task("c", 60, "b", sameNight: true), GoalId.Finish, GoalId.Cost),
        ["a kit, a due and a cheaper night"] = Goals(Week.Kit("props", "2027-03-09T23:00").Person("ana", Never)
            .Person("cy", member => member with { Available = [new("tue")] })
            .Task("a", 60, task => task with { Needs = [new("props")] }).Task("b", 60, task => task with { Due = "mon" }),
            GoalId.Cost, GoalId.Finish),
        ["wants for which there is no time"] = Goals(Evening.Person("bo", Never).Person("cy", Never)
            .Display("window", display => display with { Commitment = DisplayCommitment.Want, Value = 30 })
            .Display("till", display => display with { Commitment = DisplayCommitment.Want, Value = 20 })
            .Task("a", 240).Task("b", 180, task => task with { Display = "window" })
            .Task("c", 120, task => task with { Display = "till" }),
            GoalId.LeftOut, GoalId.Cost),
        ["a keyholder who opens and closes, and never alone"] = Goals(Evening.Rules(new()
            { KeyholderPresent = true, OpeningMinutes = 30, ClosingMinutes = 30, MinPeople = 2, MinShiftMinutes = 60 })
            .Task("a", 60).Task("b", 90), GoalId.Cost, GoalId.Finish),
        ["clean-downs, and a clean that comes last"] = Goals(Evening.CleanDown("wall", 30).CleanDown("floor", 30)
            .Task("a", 60).Task("b", 60, task => task with { Zone = "floor" })
            .Task("z", 30, task => task with { Last = true, Zone = "floor" }), GoalId.Finish, GoalId.Cost),
        ["a zone that is closed, and quiet hours"] = Goals(Evening.Ban("mon", "noisy", "2027-03-08T22:00", "2027-03-08T23:00")
            .Task("a", 60, task => task with { ClosesZoneMinutes = 60 }).Task("b", 60)
            .Task("c", 60, task => task with { Traits = ["noisy"], Zone = "floor" }), GoalId.Finish, GoalId.Cost),
        ["levels of one skill"] =
            Goals(Evening.Person("bo", member => member with { Skills = new Dictionary<string, int> { ["hands"] = 1 } })
            .Person("cy", member => member with { Skills = new Dictionary<string, int> { ["hands"] = 3, ["painting"] = 1 } })
            .Task("a", 60, task => task with { Modes = [new(60, [new("hands", 1) { Level = 2 }, new("hands", 1)])] })
            .Task("b", 60, task => task with { Modes = [new(60, [new("painting", 1)])] }), GoalId.Finish, GoalId.Cost),
        ["rest between nights, and few of them"] =
            Goals(Week.Rules(new() { MinRestMinutes = 21 * 60, MinShiftMinutes = 120, MaxShiftMinutes = 180 })
            .Person("cy", member => member with { MaxNights = 1 }).Task("a", 180).Task("b", 180).Task("c", 120), GoalId.Shifts),
        ["two ways of doing it"] =
            Goals(Evening.Task("a", 180, task => task with { Modes = [new(180, [new("hands", 1)]), new(90, [new("hands", 2)])] })
            .Task("b", 60, "a"), GoalId.Finish, GoalId.Cost),
        ["parts, and work that needs nobody"] = Goals(Week.Person("cy", Never).Task("a", 120, task => task with { Stints = 2 })
            .Task("b", 90, task => task with { Modes = [new(90, [])] }).Task("c", 60, "b"), GoalId.Nights, GoalId.Finish),
        ["more than two nights hold"] =
            Goals(Week.Person("bo", Never).Person("cy", Never).Task("a", 240).Task("b", 180).Task("c", 120), GoalId.Finish),
    };

    public static TheoryData<string> Names => new(Weeks.Keys);

    [MiniZincTheory, MemberData(nameof(Names))]
    public Task A_small_week_has_the_optimum_of_the_model_written_apart(string name) => Agrees(Weeks[name].Week);

    [MiniZincTheory]
    [InlineData(1), InlineData(2), InlineData(3), InlineData(4), InlineData(5), InlineData(6), InlineData(7), InlineData(8),
        InlineData(9), InlineData(10)]
    public Task A_week_made_by_chance_has_it_too(int draw)
    {
        var chance = PCG.Parse("000000000001");
        Week? week = null;
        for (var left = draw; left > 0; left -= Holds(week) ? 1 : 0) week = TinyWeekGenerator.Any.Generate(chance, null, out _);
        return Agrees(week!
            with { Goals = [.. week.Goals.Where(goal => goal.Goal != GoalId.Cost && MiniZincData.Goals.Contains(goal.Goal))] });

        static bool Holds(Week week) => week.Rules.BreakAfterMinutes is null && week.Tasks.Sum(task => task.Stints) <= 4;
    }

    private static async Task Agrees(Week week)
    {
        var plan = Planner.Plan(week, Enough);
        var (data, known) = (new MiniZincData(week), new Dictionary<GoalId, long>());
        foreach (var goal in week.Goals)
        {
            if (await MiniZinc.Minimum("week.mzn", data.For(goal.Goal, known)) is not { } least)
            {
                Assert.Equal(PlanStatus.Infeasible, plan.Status);
                return;
            }
            known[goal.Goal] = least;
        }
        Assert.Equal(PlanStatus.Optimal, plan.Status);
        Assert.Equal(known.Select(pair => (pair.Key, pair.Value)), plan.Goals.Select(goal => (goal.Goal, goal.Value)));
    }

    private static TinyWeek Goals(TinyWeek week, params GoalId[] goals) =>
        week.With(one => one with { Goals = [.. goals.Select(goal => new GoalChoice(goal))] });

    private static CrewMember Never(CrewMember member) => member with { Available = [] };

    private static WeekTask OnLadder(WeekTask task) =>
        task with { Modes = [task.Modes[0] with { Equipment = [new("ladder", 1)] }] };
}
