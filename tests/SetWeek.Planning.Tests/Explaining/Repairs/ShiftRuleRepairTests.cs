using SetWeek.Model.Changes;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;
using SetWeek.Planning.Tests.Exact;
using static SetWeek.Planning.Tests.Bounds.BoundsWeek;

namespace SetWeek.Planning.Tests.Explaining.Repairs;

/// <summary>
/// Conflicts with the rules on how a shift is drawn, on company and on pins. Each week is argued by hand; the exact model confirms
/// that there is no plan, and that each repair gives one.
/// </summary>
public sealed class ShiftRuleRepairTests
{
    private static readonly SearchLimits Enough = new() { Effort = 8, Workers = 1 };

    /// <summary>Two tasks of an hour fill the night of two hours, and Ann's briefing takes 15 minutes of it.</summary>
    [Fact]
    public void A_briefing_is_repaired_by_a_longer_night_or_by_another_person()
    {
        var week = OnlyAnn(Week(1, Task("a", 60), Task("b", 60))) with { Rules = new RuleSet { BriefingMinutes = 15 } };
        var plan = Explained(week, RuleId.Briefing, "Nobody starts work in the first 15 min of their shift.");
        Assert.Contains(new NightWindowMoved("n1", Closes: Evening(0, 135)), Single(plan));
        Assert.Contains(new ExtraPerson("n1", "any"), Single(plan));
    }

    /// <summary>Ann needs 15 minutes of break after an hour, and both tasks fill the night.</summary>
    [Fact]
    public void A_break_is_repaired_by_a_longer_night_or_by_another_person()
    {
        var week = OnlyAnn(Week(1, Task("a", 60), Task("b", 60)))
            with { Rules = new RuleSet { BreakAfterMinutes = 60, BreakMinutes = 15 } };
        var plan = Explained(week, RuleId.Break, "Ann needs a break of 15 min in shifts longer than 1 h.");
        Assert.Contains(new NightWindowMoved("n1", Closes: Evening(0, 135)), Single(plan));
        Assert.Contains(new ExtraPerson("n1", "any"), Single(plan));
    }

    /// <summary>
    /// The break keeps clear of both ends of a shift by 30 minutes, so that it fits neither before the hour and a half of a nor
    /// after it in a night of two hours.
    /// </summary>
    [Fact]
    public void A_break_clear_of_the_ends_is_repaired_by_a_longer_night()
    {
        var week = OnlyAnn(Week(1, Task("a", 90), Task("b", 15, "a"))) with
        {
            Rules = new RuleSet { BreakAfterMinutes = 90, BreakMinutes = 15, BreakClearMinutes = 30 },
        };
        var plan = Explained(week, RuleId.Break, "Ann needs a break of 15 min in shifts longer than 1 h 30 min, 30 min clear of "
            + "both ends.");
        // 90 minutes of a, the break, 15 minutes of b and as long again until the shift ends.
        Assert.Contains(new NightWindowMoved("n1", Closes: Evening(0, 135)), Single(plan));
    }

    /// <summary>Ann is alone in the store, and hanging needs a second person at work beside it.</summary>
    [Fact]
    public void Company_is_repaired_by_another_person()
    {
        var week = OnlyAnn(Week(1, Task("hang", 60) with { Traits = ["ladder"] }, Task("fill", 60)))
            with { Rules = new RuleSet { Company = [new("ladder", 2)] } };
        var plan = Explained(week, RuleId.Company, "“ladder” work needs at least 2 people at work in its zone.");
        Assert.Contains(new ExtraPerson("n1", "any"), Single(plan));
    }

    /// <summary>Hanging is due in the first night, and the only work beside it waits for the props of the second.</summary>
    [Fact]
    public void Company_is_repaired_by_another_night()
    {
        var week = Week(2, Task("hang", 60) with { Traits = ["ladder"], Due = "n1" }, Task("fill", 60) with { Needs = [new("props")] })
            with { Rules = new RuleSet { Company = [new("ladder", 2)] }, Kits = [new("props", "Props", Evening(1))] };
        var plan = Explained(week, RuleId.Company, "“ladder” work needs at least 2 people at work in its zone.");
        Assert.Contains(new DueMoved("hang", "n2"), Single(plan));
        Assert.Contains(new KitEtaMoved("props", Evening(0, 60)), Single(plan));
    }

    /// <summary>Work of an hour is pinned to start half an hour before the night closes.</summary>
    [Fact]
    public void A_pin_of_work_is_named_with_the_advice_to_lift_it()
    {
        var week = Week(1, Task("fill", 60)) with { Pins = [new StintPin("fill") { From = Evening(0, 90), People = ["ann"] }] };
        var plan = Explained(week, RuleId.Pin,
            "“fill” is pinned to start Mon 8 Mar 23:30 with Ann; lift this pin to plan the work freely.");
        Assert.Contains(new NightWindowMoved("n1", Closes: Evening(0, 150)), Single(plan));
    }

    /// <summary>Ann is pinned off and Bob can start his shift only when it is too late.</summary>
    [Fact]
    public void Pins_of_shifts_are_named_with_the_advice_to_lift_them()
    {
        var week = Week(1, Task("fill", 60)) with
        {
            Pins = [new ShiftPin("ann", "n1") { Off = true }, new ShiftPin("bob", "n1") { From = Evening(0, 90), To = Evening(0, 120) }],
        };
        var plan = Explained(week, RuleId.Pin, "Ann is pinned off in the night of Mon 8 Mar; lift this pin to let Ann work.");
        Assert.Contains("Bob is pinned to a shift in the night of Mon 8 Mar from 23:30 until 00:00; lift this pin to plan the shift "
            + "freely.", plan.Conflict.Select(member => member.Sentence));
        Assert.Contains(new ExtraPerson("n1", "any"), Single(plan));
    }

    private static Week OnlyAnn(Week week) => week with { Crew = [week.Crew[0]] };

    /// <summary>The plan file of a week without a plan, whose conflict has the sentence and whose repairs are confirmed.</summary>
    private static Plan Explained(Week week, RuleId rule, string sentence)
    {
        Assert.Null(CpOptimum.Plan(Problem.Of(week)));
        var plan = Planner.Plan(week, Enough);
        Assert.Equal((PlanStatus.Infeasible, true), (plan.Status, plan.ConflictSmallest));
        Assert.Contains(sentence, plan.Conflict.Where(member => member.Rule == rule).Select(member => member.Sentence));
        Assert.NotEmpty(plan.Repairs);
        Assert.All(plan.Repairs, repair => Assert.NotNull(CpOptimum.Plan(Problem.Of(WeekChange.Apply(week, repair.Changes)))));
        return plan;
    }

    private static IEnumerable<WeekChange> Single(Plan plan) =>
        plan.Repairs.Where(repair => repair.Changes.Count == 1).Select(repair => repair.Changes[0]);
}
