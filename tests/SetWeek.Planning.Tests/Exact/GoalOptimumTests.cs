using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Tests.Exact;

/// <summary>
/// One tiny week for each goal, with its optimum derived in a comment. Every solution is measured and checked as well.
/// </summary>
public class GoalOptimumTests
{
    private static readonly TinyWeek Week = TinyWeek.New.With(week => week with { GridMinutes = 30 });
    private static readonly TinyWeek AnaAlone = Week.Person("bo", NeverAvailable).Person("cy", NeverAvailable);

    [Fact]
    public void LeftOut() => AssertOptimum([3], AnaAlone.With(week => week with { Nights = [week.Nights[0]] })
        // Two wants take five hours each and the night has eight, so the want of lower value is left out.
        .Person("ana", member => member with { Available = [new("mon")] })
        .Display("big", Want(5)).Display("small", Want(3))
        .Task("a", 300, task => task with { Display = "big" })
        .Task("b", 300, task => task with { Display = "small" }), GoalId.LeftOut);

    [Fact]
    public void LeftOut_counts_an_alternate_at_its_own_loss() => AssertOptimum([2], AnaAlone
        // The wall cannot be built because its kit never comes. Its alternate can.
        .Kit("paint", null).Display("wall", display => display with { Alternate = new("plain", 2) }).Display("plain", Want(9))
        .Task("a", 60, task => task with { Needs = [new("paint")] })
        .Task("b", 60, task => task with { Display = "plain" }), GoalId.LeftOut);

    [Fact]
    public void Reserve() => AssertOptimum([132], Week
        // Two people for 210 minutes on the last night are 420. A fifth of 3 x 480 minutes is 288.
        .Rules(new() { ReservePercent = 20 }).Kit("props", "2027-03-10T22:00")
        .Task("a", 210, task => task with { Modes = [new(210, [new("hands", 2)])], Needs = [new("props")] }), GoalId.Reserve);

    [Fact]
    public void Cost() => AssertOptimum([3000], AnaAlone
        // The first hour costs 12.00, the second, which is overtime, one and a half times that.
        .Rules(new() { OvertimeAfterMinutes = 60, OvertimePercent = 150 }).Task("a", 120), GoalId.Cost);

    [Fact]
    public void Finish_counts_the_hour_that_the_clock_skips() => AssertOptimum([60 + 23 * 60 + 60], AnaAlone
        // Clocks go forward on Sunday 28 March 2027 at 01:00: from Saturday 22:00 to Sunday 22:00 it is 23 hours.
        .With(week => week with
        {
            Nights =
            [
                new("mon", At("2027-03-27T22:00"), At("2027-03-28T06:00")),
                new("tue", At("2027-03-28T22:00"), At("2027-03-29T06:00")),
            ],
            Launch = At("2027-03-30T09:00"),
        })
        .Person("ana", member => member with { Available = [new("mon"), new("tue")] })
        .Kit("props", "2027-03-28T23:00").Task("a", 60, task => task with { Needs = [new("props")] }), GoalId.Finish);

    [Fact]
    public void Nights() => AssertOptimum([2], AnaAlone.Task("a", 300).Task("b", 300), GoalId.Nights);

    [Fact]
    public void Shifts() => AssertOptimum([1], Week.Task("a", 60).Task("b", 60), GoalId.Shifts);

    [Fact]
    public void Bare() => AssertOptimum([700], AnaAlone
        // Three pieces of five hours on the floor take three nights of eight hours. The first piece empties it and the last one
        // fills it, so it is bare on two days. The wall is emptied and filled in one night.
        .Zone("floor", floor => floor with { TradePerDay = 350 }).Zone("wall", wall => wall with { TradePerDay = 900 })
        .Task("a", 600, task => task with { Zone = "floor", Stints = 2, Empties = true })
        .Task("b", 300, task => task with { Zone = "floor", After = [new("a")], Fills = true })
        .Task("c", 60, task => task with { Empties = true })
        .Task("d", 60, task => task with { After = [new("c")], Fills = true }), GoalId.Bare);

    [Fact]
    public void Handovers() => AssertOptimum([1], Week.With(week => week with { Nights = [week.Nights[0]] })
        // Bo and Di do the second stint, because Ana and Cy go at midnight. Di was not there before, so Bo does the first stint with
        // Ana or Cy, who then leaves.
        .Person("ana", Between("2027-03-08T22:00", "2027-03-09T00:00")).Person("cy", Between("2027-03-08T22:00", "2027-03-09T00:00"))
        .Person("bo", Between("2027-03-08T22:00", "2027-03-09T02:00")).Person("di", Between("2027-03-09T00:00", "2027-03-09T02:00"))
        .Task("a", 240, task => task with { Stints = 2, Modes = [new(240, [new("hands", 2)])] }), GoalId.Handovers);

    [Fact]
    public void Moves() => AssertOptimum([1], AnaAlone.With(week => week with { Nights = [week.Nights[0]] })
        // The optimum does both tasks at the wall in a row, then the one on the floor.
        .Person("ana", member => member with { Available = [new("mon")] })
        .Task("a", 60).Task("b", 60, task => task with { Zone = "floor" }).Task("c", 60), GoalId.Moves);

    [Fact]
    public void Uneven() => AssertOptimum([3600, 60], Week.Person("cy", NeverAvailable)
        // Three hours of work at minimum cost: of two people one has two hours, the other one.
        .Task("a", 60).Task("b", 60).Task("c", 60), GoalId.Cost, GoalId.Uneven);

    [Fact]
    public void Changes()
    {
        // The kit is a day late. A shift on Tuesday is added (2), more than a day ahead, and the work changes its night (1).
        // Ana keeps her empty shift on Monday, because dropping it at short notice would count 2 x 3.
        var week = Week.Rules(new() { NoticeMinutes = 1440 }).Kit("props", "2027-03-09T22:00")
            .Task("a", 60, task => task with { Needs = [new("props")] })
            .With(week => week with { ReplanGoals = [new(GoalId.Changes)] });
        var published = week.Plan.Shift("mon", "ana", "22:00", "23:00").Work("mon", "a", "22:00", "23:00", "ana");
        Assert.Equal([3], CpOptimum.Best(week.Replan(published, "2027-03-08T12:00").Problem) ?? []);
    }

    [Fact]
    public void Shuffled()
    {
        // Ana is away on Monday. Somebody else does her work there, at any time: 1. Cy's work stays as it is, though his kit comes
        // half an hour late.
        var week = Week.With(week => week with { Nights = [week.Nights[0]], ReplanGoals = [new(GoalId.Shuffled)] })
            .Person("bo", member => member with { Available = [new("mon")] })
            .Person("cy", member => member with { Available = [new("mon")] })
            .Task("a", 60).Kit("props", "2027-03-08T22:30").Task("b", 60, task => task with { Needs = [new("props")] });
        var published = week.Plan.Shift("mon", "ana", "22:00", "23:00").Work("mon", "a", "22:00", "23:00", "ana")
            .Shift("mon", "cy", "22:00", "23:00").Work("mon", "b", "22:00", "23:00", "cy");
        var absent = week.Person("ana", NeverAvailable);
        Assert.Equal([1], CpOptimum.Best(absent.Replan(published, "2027-03-08T12:00").Problem) ?? []);
    }

    private static Func<CrewMember, CrewMember> Between(string from, string to) => member =>
        member with { Available = [new("mon", At(from), At(to))] };

    private static NodaTime.LocalDateTime At(string time) => TinyWeek.Local(time);

    private static CrewMember NeverAvailable(CrewMember member) => member with { Available = [] };

    private static Func<Display, Display> Want(int value) => display =>
        display with { Commitment = DisplayCommitment.Want, Value = value };

    private static void AssertOptimum(long[] best, TinyWeek week, params GoalId[] goals) =>
        Assert.Equal(best, CpOptimum.Best(week.With(week => week with
        {
            Goals = [.. goals.Select(goal => new GoalChoice(goal))],
        }).Problem) ?? []);
}
