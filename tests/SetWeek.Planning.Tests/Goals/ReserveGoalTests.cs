using SetWeek.Model.Weeks;
namespace SetWeek.Planning.Tests.Goals;

public sealed class ReserveGoalTests
{
    /// <summary>
    /// Wednesday is the last night, 8 h. Ana is free for it all and works 6 h at most, Bo for 2 h, Cy not: 480 min in all.
    /// </summary>
    private static readonly TinyWeek Week = TinyWeek.New
        .Person("ana", ana => ana with { MaxMinutesPerNight = 360 })
        .Person("bo", bo => bo with { Available = [new("wed", To: TinyWeek.Local("2027-03-11T00:00"))] })
        .Person("cy", cy => cy with { Available = [new("mon")] })
        .Task("fill", 150, task => task with { Modes = [new(150, [new("hands", 2)])] });

    private static long Filled(TinyWeek week, string to) => week.Plan.Work("wed", "fill", "22:00", to, "ana", "bo")
        .Goal(GoalId.Reserve);

    /// <summary>60 % of 480 is 288. Two people for 144 min are 288; a minute more are 290.</summary>
    [Fact]
    public void It_is_what_lies_beyond_sixty_percent()
    {
        Assert.Equal(0, Filled(Week, "00:24"));
        Assert.Equal(2, Filled(Week, "00:25"));
    }

    /// <summary>33 % of 480 is 158.4; 2 x 80 = 160 are 1.6 beyond, so 2.</summary>
    [Fact]
    public void It_is_rounded_up() => Assert.Equal(2, Filled(Week.Rules(new() { ReservePercent = 33 }), "23:20"));

    [Fact]
    public void Commitments_are_not_subtracted() =>
        Assert.Equal(2, Filled(Week.Busy("ana", "2027-03-10T22:00", "2027-03-11T06:00"), "00:25"));

    /// <summary>Bo's two entries overlap for an hour: 2 h together, as before.</summary>
    [Fact]
    public void A_minute_that_two_entries_give_counts_once() => Assert.Equal(2, Filled(Week.Person("bo", bo => bo with
    {
        Available = [new("wed", To: TinyWeek.Local("2027-03-10T23:30")),
            new("wed", TinyWeek.Local("2027-03-10T22:30"), TinyWeek.Local("2027-03-11T00:00"))],
    }), "00:25"));

    [Fact]
    public void Only_the_last_night_counts() =>
        Assert.Equal(0, Week.Plan.Work("tue", "fill", "22:00", "06:00", "ana", "bo").Goal(GoalId.Reserve));

    /// <summary>A clean-down is work: 290 and 10 more.</summary>
    [Fact]
    public void Clean_downs_count() =>
        Assert.Equal(12, Week.CleanDown("wall", 10).Plan
        .Work("wed", "fill", "22:00", "00:25", "ana", "bo").CleanDown("wed", "wall", "00:25", "00:35", "ana").Goal(GoalId.Reserve));
}
