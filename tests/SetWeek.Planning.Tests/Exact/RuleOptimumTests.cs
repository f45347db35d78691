using SetWeek.Model.Problems;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Tests.Exact;

/// <summary>
/// One tiny week for each rule, whose optimum depends on that rule: solved with all rules, and without that rule in the model.
/// Nights open at 22:00. "finish" counts minutes from the first opening. An hour of one person costs 12.00.
/// </summary>
public class RuleOptimumTests
{
    private static readonly TinyWeek Week = TinyWeek.New.With(week => week with { GridMinutes = 30 });

    /// <summary>A crew of three in which only Ana is available.</summary>
    private static readonly TinyWeek AnaAlone = Week.Person("bo", NeverAvailable).Person("cy", NeverAvailable);

    [Fact]
    public void Grid() => AssertBinds("grid", "finish", Week
        // Tuesday's slots start at 22:02 and 22:32. The kit comes at 22:04, so the hour of work starts at 22:32.
        .Night("tue", night => night with { Opens = TinyWeek.Local("2027-03-09T22:02") })
        .Kit("paint", "2027-03-09T22:04").Task("a", 60, task => task with { Needs = [new("paint")] }),
        best: 1440 + 32 + 60, without: 1440 + 4 + 60);

    [Fact]
    public void Whole() => AssertBinds("whole", "finish", Week.Task("a", 60), best: 60, without: 0);

    [Fact]
    public void Window() => AssertBinds("window", "finish", Week
        // Two tasks without people, one after the other, take ten hours. A night has eight, so the second waits.
        .Task("a", 300, Unattended).Task("b", 300, task => Unattended(task) with { After = [new("a")] }),
        best: 1440 + 300, without: 600);

    [Fact]
    public void Ban() => AssertBinds("ban", "finish", Week
        .Night("mon", night => night with { Bans = [new("noisy", night.Opens, night.Opens.PlusHours(1))] })
        .Task("a", 60, task => task with { Traits = ["noisy"] }),
        best: 120, without: 60);

    [Fact]
    public void After() => AssertBinds("after", "finish", Week.Task("a", 60).Task("b", 60, "a"), best: 120, without: 60);

    [Fact]
    public void Drying() => AssertBinds("drying", "finish", Week.Task("a", 60)
        .Task("b", 60, "a", dry: 120), best: 240, without: 120);

    [Fact]
    public void SameNight() => AssertBinds("same-night", "finish", Week
        // b is possible on Tuesday only. a must be in the same night, so it waits too.
        .Kit("props", "2027-03-09T22:00").Task("a", 60)
        .Task("b", 60, task => task with { After = [new("a") { SameNight = true }], Needs = [new("props")] }),
        best: 1440 + 120, without: 1440 + 60);

    [Fact]
    public void Kit() => AssertBinds("kit", "finish", Week
        .Kit("props", "2027-03-08T23:00").Task("a", 60, task => task with { Needs = [new("props")] }),
        best: 120, without: 60);

    [Fact]
    public void Equipment() => AssertBinds("equipment", "finish", Week
        .Equipment("ladder", 1).Task("a", 60, OnLadder).Task("b", 60, OnLadder),
        best: 120, without: 60);

    [Fact]
    public void Skill() => AssertBinds("skill", "finish", Week
        // Only Cy has level 3, and Cy comes at 23:00.
        .Person("cy", member => member with
        {
            Skills = new Dictionary<string, int> { ["hands"] = 3 }, Available = [new("mon", TinyWeek.Local("2027-03-08T23:00"))],
        })
        .Task("a", 60, task => task with { Modes = [new(60, [new("hands", 1) { Level = 3 }])] }),
        best: 120, without: 60);

    [Fact]
    public void OnePlace() => AssertBinds("one-place", "finish", AnaAlone.Task("a", 60).Task("b", 60), best: 120, without: 60);

    [Fact]
    public void ZoneRoom() => AssertBinds("zone-room", "finish", Week
        .Zone("wall", zone => zone with { MaxPeople = 1 }).Task("a", 60).Task("b", 60),
        best: 120, without: 60);

    [Fact]
    public void ZoneClosed() => AssertBinds("zone-closed", "finish", Week
        .Task("a", 60, task => task with { ClosesZoneMinutes = 90 }).Task("b", 60, "a"),
        best: 60 + 90 + 60, without: 120);

    [Fact]
    public void CleanDown() => AssertBinds("clean-down", "finish", Week
        .Zone("wall", zone => zone with { CleanDown = new(30, [new("hands", 1)]) }).Task("a", 60),
        best: 90, without: 60);

    [Fact]
    public void Last() => AssertBinds("last", "finish", Week
        .Task("a", 60).Task("z", 60, task => task with { Last = true }), best: 120, without: 60);

    [Fact]
    public void Due() => AssertBinds("due", "cost", CheaperOnTuesday
        .Task("a", 60, task => task with { Due = "mon" }), best: 1200, without: 600);

    [Fact]
    public void Launch() => AssertBinds("launch", "cost", CheaperOnTuesday.Task("a", 60)
        .With(week => week with { Launch = TinyWeek.Local("2027-03-09T09:00") }),
        best: 1200, without: 600);

    [Fact]
    public void Availability() => AssertBinds("availability", "finish", AnaAlone
        .Person("ana", member => member with { Available = [new("mon", TinyWeek.Local("2027-03-08T23:00"))] }).Task("a", 60),
        best: 120, without: 60);

    [Fact]
    public void OnShift() => AssertBinds("on-shift", "cost", Week.Task("a", 60), best: 1200, without: 0);

    [Fact]
    public void ShiftLength() => AssertBinds("shift-length", "cost", Week
        .Rules(new() { MinShiftMinutes = 180 }).Task("a", 60), best: 3600, without: 1200);

    [Fact]
    public void Break() => AssertBinds("break", "finish", AnaAlone
        // One person has three hours of work and may do at most two without a break.
        .Rules(new() { BreakAfterMinutes = 120, BreakMinutes = 30 }).Task("a", 90).Task("b", 90),
        best: 90 + 30 + 90, without: 180);

    [Fact]
    public void Rest() => AssertBinds("rest", "finish", AnaAlone
        // Five hours on Monday end at 03:00. Twenty hours of rest end at 23:00 on Tuesday.
        .Rules(new() { MinRestMinutes = 1200 }).Task("a", 300).Task("b", 300),
        best: 1440 + 60 + 300, without: 1440 + 300);

    [Fact]
    public void YoungWorker() => AssertBinds("young-worker", "cost", Week
        .Person("cy", member => member with { Under18 = true, RatePerHour = 600 })
        .Rules(new() { Under18 = new() { Barred = ["ladder"] } }).Task("a", 60, task => task with { Traits = ["ladder"] }),
        best: 1200, without: 600);

    [Fact]
    public void Keyholder() => AssertBinds("keyholder", "cost", Week
        // Only Cy can do the task, at 6.00 an hour. Ana or Bo, the keyholders, must be present throughout.
        .Person("cy", member => member with { RatePerHour = 600, Skills = new Dictionary<string, int> { ["painting"] = 1 } })
        .Rules(new() { KeyholderPresent = true }).Task("a", 60, task => task with { Modes = [new(60, [new("painting", 1)])] }),
        best: 600 + 1200, without: 600);

    [Fact]
    public void OpenClose() => AssertBinds("open-close", "cost", Week
        .Rules(new() { KeyholderPresent = true, OpeningMinutes = 30, ClosingMinutes = 30 }).Task("a", 60),
        best: 2400, without: 1200);

    [Fact]
    public void TwoPerson() => AssertBinds("two-person", "cost", Week
        .Rules(new() { MinPeople = 2 }).Task("a", 60), best: 2400, without: 1200);

    [Fact]
    public void Frozen()
    {
        // The task is published for 22:00, and at 22:30 it has not begun.
        var week = Week.Task("a", 60).With(week => week with { ReplanGoals = [new("finish")] });
        var published = week.Plan.Shift("mon", "ana", "22:00", "23:00").Work("mon", "a", "22:00", "23:00", "ana");
        AssertBinds("frozen", week.Replan(published, "2027-03-08T22:30").Problem, best: 90, without: 60);
    }

    /// <summary>On Monday Ana is available at 12.00 an hour, on Tuesday Cy at 6.00.</summary>
    private static TinyWeek CheaperOnTuesday => Week.Person("bo", NeverAvailable)
        .Person("ana", member => member with { Available = [new("mon")] })
        .Person("cy", member => member with { Available = [new("tue")], RatePerHour = 600 });

    private static CrewMember NeverAvailable(CrewMember member) => member with { Available = [] };

    private static WeekTask Unattended(WeekTask task) => task with { Modes = [new(task.Modes[0].Minutes, [])] };

    private static WeekTask OnLadder(WeekTask task) =>
        task with { Modes = [task.Modes[0] with { Equipment = [new("ladder", 1)] }] };

    private static void AssertBinds(string rule, string goal, TinyWeek week, long best, long without) =>
        AssertBinds(rule, week.With(week => week with { Goals = [new(goal)] }).Problem, best, without);

    private static void AssertBinds(string rule, Problem problem, long best, long without)
    {
        Assert.Equal([best], CpOptimum.Best(problem) ?? []);
        Assert.Equal([without], CpOptimum.Best(problem, rule) ?? []);
        Assert.NotEqual(best, without);
    }
}
