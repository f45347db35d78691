using CsCheck;
using SetWeek.Model.Plans;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Reference;

/// <summary>
/// Small weeks for which the planner and an independent model (week.mzn, which lists its rules) must prove the same optimum, goal
/// by goal. A planner that forbids too much would be worse than the model; one that allows too much would be better.
/// </summary>
public sealed class ReferenceWeekTests
{
    private static readonly SearchLimits Enough = new() { Effort = 30, Workers = 1 };

    /// <summary>Two nights of four hours on a grid of half an hour, which Gecode solves within moments.</summary>
    private static readonly TinyWeek Week = TinyWeek.New.With(week => week with
    {
        GridMinutes = 30,
        Nights = [.. week.Nights.Take(2).Select(night => night with { Closes = night.Opens.PlusHours(4) })],
        Crew = [.. week.Crew
            .Select((member, index) => member with { RatePerHour = 1200 - 100 * index, Available = [new("mon"), new("tue")] })],
    });

    /// <summary>The first night alone.</summary>
    private static readonly TinyWeek Evening = Week.With(week => week with
    {
        Nights = [week.Nights[0]], Crew = [.. week.Crew.Select(member => member with { Available = [new("mon")] })],
    });

    private static readonly Dictionary<string, TinyWeek> Weeks = new()
    {
        ["order, drying and room"] = WithGoals(Evening.Zone("wall", zone => zone with { MaxPeople = 1 })
            .Task("a", 60).Task("b", 90).Task("c", 30, "a", dry: 60), GoalId.Finish, GoalId.Cost),
        ["a coat that dries through the day"] =
            WithGoals(Week.Person("cy", NeverAvailable).Task("a", 120).Task("b", 60, "a", dry: 120), GoalId.Finish, GoalId.Cost),
        ["one ladder, and secured in the same night"] = WithGoals(Evening.Equipment("ladder", 1).Task("a", 90, OnLadder)
            .Task("b", 90, OnLadder).Task("c", 60, "b", sameNight: true), GoalId.Finish, GoalId.Cost),
        ["a kit, a due and a cheaper night"] = WithGoals(Week.Kit("props", "2027-03-09T23:00").Person("ana", NeverAvailable)
            .Person("cy", member => member with { Available = [new("tue")] })
            .Task("a", 60, task => task with { Needs = [new("props")] }).Task("b", 60, task => task with { Due = "mon" }),
            GoalId.Cost, GoalId.Finish),
        ["wants that do not all fit"] = WithGoals(Evening.Person("bo", NeverAvailable).Person("cy", NeverAvailable)
            .Display("window", display => display with { Commitment = DisplayCommitment.Want, Value = 30 })
            .Display("till", display => display with { Commitment = DisplayCommitment.Want, Value = 20 })
            .Task("a", 240).Task("b", 180, task => task with { Display = "window" })
            .Task("c", 120, task => task with { Display = "till" }),
            GoalId.LeftOut, GoalId.Cost),
        ["a keyholder who opens and closes, and never alone"] = WithGoals(Evening.Rules(new()
            { KeyholderPresent = true, OpeningMinutes = 30, ClosingMinutes = 30, MinPeople = 2, MinShiftMinutes = 60 })
            .Task("a", 60).Task("b", 90), GoalId.Cost, GoalId.Finish),
        ["clean-downs, and a clean that comes last"] = WithGoals(Evening.CleanDown("wall", 30).CleanDown("floor", 30)
            .Task("a", 60).Task("b", 60, task => task with { Zone = "floor" })
            .Task("z", 30, task => task with { Last = true, Zone = "floor" }), GoalId.Finish, GoalId.Cost),
        ["a zone that is closed, and quiet hours"] = WithGoals(Evening.Ban("mon", "noisy", "2027-03-08T22:00", "2027-03-08T23:00")
            .Task("a", 60, task => task with { ClosesZoneMinutes = 60 }).Task("b", 60)
            .Task("c", 60, task => task with { Traits = ["noisy"], Zone = "floor" }), GoalId.Finish, GoalId.Cost),
        ["levels of one skill"] =
            WithGoals(Evening.Person("bo", member => member with { Skills = new Dictionary<string, int> { ["hands"] = 1 } })
            .Person("cy", member => member with { Skills = new Dictionary<string, int> { ["hands"] = 3, ["painting"] = 1 } })
            .Task("a", 60, task => task with { Modes = [new(60, [new("hands", 1) { Level = 2 }, new("hands", 1)])] })
            .Task("b", 60, task => task with { Modes = [new(60, [new("painting", 1)])] }), GoalId.Finish, GoalId.Cost),
        ["rest, and a maximum of nights"] =
            WithGoals(Week.Rules(new() { MinRestMinutes = 21 * 60, MinShiftMinutes = 120, MaxShiftMinutes = 180 })
            .Person("cy", member => member with { MaxNights = 1 }).Task("a", 180).Task("b", 180).Task("c", 120), GoalId.Shifts),
        ["two modes of one task"] =
            WithGoals(Evening.Task("a", 180, task => task with { Modes =
                [new(180, [new("hands", 1)]), new(90, [new("hands", 2)])] })
            .Task("b", 60, "a"), GoalId.Finish, GoalId.Cost),
        ["stints, and work without people"] = WithGoals(Week.Person("cy", NeverAvailable)
            .Task("a", 120, task => task with { Stints = 2 })
            .Task("b", 90, task => task with { Modes = [new(90, [])] }).Task("c", 60, "b"), GoalId.Nights, GoalId.Finish),
        ["more work than fits into two nights"] =
            WithGoals(Week.Person("bo", NeverAvailable).Person("cy", NeverAvailable).Task("a", 240).Task("b", 180)
                .Task("c", 120), GoalId.Finish),
    };

    public static TheoryData<string> Names => new(Weeks.Keys);

    [MiniZincTheory, MemberData(nameof(Names))]
    public Task A_small_week_has_the_optimum_of_the_reference(string name) => AssertSameOptimum(Weeks[name].Week);

    [MiniZincTheory]
    [InlineData(1), InlineData(2), InlineData(3), InlineData(4), InlineData(5), InlineData(6), InlineData(7), InlineData(8),
        InlineData(9), InlineData(10)]
    public Task A_random_week_has_the_optimum_of_the_reference(int draw)
    {
        var random = PCG.Parse("000000000001");
        Week? week = null;
        for (var left = draw; left > 0; left -= IsSupported(week) ? 1 : 0) week =
            TinyWeekGenerator.Any.Generate(random, null, out _);
        return AssertSameOptimum(week!
            with { Goals = [.. week.Goals.Where(goal => goal.Goal != GoalId.Cost && MiniZincData.Goals.Contains(goal.Goal))] });

        static bool IsSupported(Week week) => week.Tasks.Sum(task => task.Stints) <= 4;
    }

    /// <summary>
    /// Random weeks with breaks clear of the ends of a shift, a briefing, company and pins. Some of them have no plan.
    /// </summary>
    [MiniZincTheory]
    [InlineData(1), InlineData(2), InlineData(3), InlineData(4), InlineData(5), InlineData(6), InlineData(7), InlineData(8),
        InlineData(9), InlineData(10), InlineData(11), InlineData(12)]
    public Task A_random_week_with_the_rules_on_shifts_and_pins_has_the_optimum_of_the_reference(int draw)
    {
        var random = PCG.Parse("000000000002");
        Week week = null!;
        for (var left = draw; left > 0; left -= week.Tasks.Sum(task => task.Stints) <= 3 ? 1 : 0)
            week = TinyWeekGenerator.Any.Generate(random, null, out _);
        var (first, last) = (week.Tasks[0], week.Tasks[^1]);
        Pin[] pins =
        [
            new StintPin(first.Id) { Night = week.Nights[^1].Id },
            new StintPin(last.Id) { Stint = 1, From = week.Nights[0].Opens.PlusMinutes(60) },
            new StintPin(last.Id) { People = last.Modes[0].Roles.Count > 0 ? [week.Crew[0].Id] : [] },
            new ShiftPin(week.Crew[1].Id, week.Nights[0].Id) { Off = true },
            new ShiftPin(week.Crew[1].Id, week.Nights[0].Id) { From = week.Nights[0].Opens.PlusMinutes(30) },
        ];
        return AssertSameOptimum(week with
        {
            Rules = week.Rules with
            {
                BreakAfterMinutes = 120, BreakMinutes = 15 + 15 * (draw % 2), BreakClearMinutes = 15 * (draw % 3),
                BriefingMinutes = draw % 4 == 0 ? null : 10, Company = draw % 3 == 0 ? [] : [new("noisy", 2)],
            },
            Pins = draw > pins.Length ? [] : [pins[draw - 1]],
            Goals = [new(GoalId.LeftOut), .. Order[(draw % Order.Length)..].Take(2).Select(goal => new GoalChoice(goal))],
        });
    }

    /// <summary>
    /// The last of the crew cannot come in the first night after all. The week is planned anew before it opens, so that nothing has
    /// begun.
    /// </summary>
    [MiniZincTheory]
    [InlineData(1), InlineData(2), InlineData(3), InlineData(4), InlineData(5), InlineData(6)]
    public Task A_random_replan_before_the_first_night_has_the_optimum_of_the_reference(int draw)
    {
        var random = PCG.Parse("000000000003");
        var (week, published) = ((Week)null!, (Plan)null!);
        for (var left = draw; left > 0;)
        {
            week = TinyWeekGenerator.Any.Generate(random, null, out _);
            if (week.Tasks.Sum(task => task.Stints) > 3) continue;
            published = Planner.Plan(week with { Goals = [new(GoalId.LeftOut), new(GoalId.Finish)] }, Enough);
            if (published.Nights.Count > 0) left--;
        }
        GoalId[] goals = draw % 2 == 0 ? [GoalId.LeftOut, GoalId.Shuffled, GoalId.Finish]
            : [GoalId.LeftOut, GoalId.Finish, GoalId.Shuffled];
        return AssertSameOptimum(week with
        {
            Crew = [.. week.Crew.SkipLast(1), week.Crew[^1] with { Available = [.. week.Crew[^1].Available.Skip(1)] }],
            ReplanGoals = [.. goals.Select(goal => new GoalChoice(goal))],
        }, published);
    }

    /// <summary>Goals whose optimum Gecode proves within moments, so without cost.</summary>
    private static readonly GoalId[] Order =
        [GoalId.Handovers, GoalId.Finish, GoalId.Bare, GoalId.Nights, GoalId.Handovers, GoalId.Bare, GoalId.Shifts];

    /// <param name="week">The week; with a published plan its goals of a re-plan are compared.</param>
    /// <param name="published">For a re-plan eight hours before the first night opens.</param>
    private static async Task AssertSameOptimum(Week week, Plan? published = null)
    {
        var replan = published is null ? null : new Replan(published, week.Nights[0].Opens.PlusHours(-8), []);
        var plan = Planner.Plan(week, Enough, replan);
        var (data, optimum) = (new MiniZincData(week, published), new Dictionary<GoalId, long>());
        foreach (var goal in published is null ? week.Goals : week.ReplanGoals)
        {
            if (await MiniZinc.Minimum("week.mzn", data.For(goal.Goal, optimum)) is not { } minimum)
            {
                Assert.Equal(PlanStatus.Infeasible, plan.Status);
                return;
            }
            optimum[goal.Goal] = minimum;
        }
        Assert.Equal(PlanStatus.Optimal, plan.Status);
        Assert.Equal(optimum.Select(pair => (pair.Key, pair.Value)), plan.Goals.Select(goal => (goal.Goal, goal.Value)));
    }

    private static TinyWeek WithGoals(TinyWeek week, params GoalId[] goals) =>
        week.With(changed => changed with { Goals = [.. goals.Select(goal => new GoalChoice(goal))] });

    private static CrewMember NeverAvailable(CrewMember member) => member with { Available = [] };

    private static WeekTask OnLadder(WeekTask task) =>
        task with { Modes = [task.Modes[0] with { Equipment = [new("ladder", 1)] }] };
}
