using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Tests.Exact;

/// <summary>One tiny week a goal, its best value argued; every plan on the way is measured and checked as well.</summary>
public class GoalOptimumTests
{
    private static readonly TinyWeek Week = TinyWeek.New.With(week => week with { GridMinutes = 30 });
    private static readonly TinyWeek AnaAlone = Week.Person("bo", Never).Person("cy", Never);

    [Fact]
    public void LeftOut() => Best([3], AnaAlone.With(week => week with { Nights = [week.Nights[0]] })
        // Two wants of five hours and a night of eight: the one worth less stays out.
        .Person("ana", member => member with { Available = [new("mon")] })
        .Display("big", Want(5)).Display("small", Want(3))
        .Task("a", 300, task => task with { Display = "big" })
        .Task("b", 300, task => task with { Display = "small" }), GoalId.LeftOut);

    [Fact]
    public void LeftOut_counts_an_alternate_at_its_own_loss() => Best([2], AnaAlone
        // The wall cannot be built for want of its kit, the plain wall can.
        .Kit("paint", null).Display("wall", display => display with { Alternate = new("plain", 2) }).Display("plain", Want(9))
        .Task("a", 60, task => task with { Needs = [new("paint")] })
        .Task("b", 60, task => task with { Display = "plain" }), GoalId.LeftOut);

    [Fact]
    public void Reserve() => Best([132], Week
        // 210 minutes of two people on the last night are 420; a fifth of 3 x 480 minutes is 288.
        .Rules(new() { ReservePercent = 20 }).Kit("props", "2027-03-10T22:00")
        .Task("a", 210, task => task with { Modes = [new(210, [new("hands", 2)])], Needs = [new("props")] }), GoalId.Reserve);

    [Fact]
    public void Cost() => Best([3000], AnaAlone
        // The first hour at 12.00, the second, over the week's limit, at one and a half times that.
        .Rules(new() { OvertimeAfterMinutes = 60, OvertimePercent = 150 }).Task("a", 120), GoalId.Cost);

    [Fact]
    public void Finish_counts_the_hour_that_the_clock_skips() => Best([60 + 23 * 60 + 60], AnaAlone
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
    public void Nights() => Best([2], AnaAlone.Task("a", 300).Task("b", 300), GoalId.Nights);

    [Fact]
    public void Shifts() => Best([1], Week.Task("a", 60).Task("b", 60), GoalId.Shifts);

    [Fact]
    public void Moves() => Best([1], AnaAlone.With(week => week with { Nights = [week.Nights[0]] })
        // Both works of the wall in a row, then the floor.
        .Person("ana", member => member with { Available = [new("mon")] })
        .Task("a", 60).Task("b", 60, task => task with { Zone = "floor" }).Task("c", 60), GoalId.Moves);

    [Fact]
    public void Uneven() => Best([3600, 60], Week.Person("cy", Never)
        // Three hours of work at no more than they cost: one of two people has two of them.
        .Task("a", 60).Task("b", 60).Task("c", 60), GoalId.Cost, GoalId.Uneven);

    [Fact]
    public void Changes()
    {
        // The kit is a day late. Ana keeps her Monday, with nothing to do; a shift on Tuesday is added (2), more than a day
        // ahead, and the work changes its night (1). To call Monday off would count 2 x 3 more: it is today.
        var week = Week.Rules(new() { NoticeMinutes = 1440 }).Kit("props", "2027-03-09T22:00")
            .Task("a", 60, task => task with { Needs = [new("props")] })
            .With(week => week with { ReplanGoals = [new(GoalId.Changes)] });
        var published = week.Plan.Shift("mon", "ana", "22:00", "23:00").Work("mon", "a", "22:00", "23:00", "ana");
        Assert.Equal([3], CpOptimum.Best(week.Replan(published, "2027-03-08T12:00").Problem) ?? []);
    }

    private static NodaTime.LocalDateTime At(string time) => TinyWeek.Local(time);

    private static CrewMember Never(CrewMember member) => member with { Available = [] };

    private static Func<Display, Display> Want(int value) => display => display with { Commitment = DisplayCommitment.Want, Value = value };

    private static void Best(long[] best, TinyWeek week, params GoalId[] goals) =>
        Assert.Equal(best, CpOptimum.Best(week.With(week => week with
        {
            Goals = [.. goals.Select(goal => new GoalChoice(goal))],
        }).Problem) ?? []);
}
