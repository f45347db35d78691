using SetWeek.Model.Changes;
using SetWeek.Model.Checking;
using SetWeek.Model.Files;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Model.Tests.Problems;

/// <summary>Bans and availabilities that reach beyond their night, which is from 22:00 to 06:00.</summary>
public sealed class ClippedTimesTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Task("saw", 60, task => task with { Traits = ["noisy"] });

    private static IReadOnlyList<string> NotesOf(TinyWeek week) => PlanBuilder.Unknown(week.Problem, []).Notes;

    [Fact]
    public void A_ban_that_reaches_beyond_its_night_is_clipped_with_a_note()
    {
        var week = Week.Ban("mon", "noisy", "2027-03-09T01:00", "2027-03-09T07:00");
        Assert.True(WeekFile.Check(week.Week).IsT0);
        Assert.Equal(new Span(180, 480), Assert.Single(week.Problem.Nights[0].Bans).Span);
        Assert.Equal(["The ban on “noisy” work from Tue 9 Mar 01:00 to Tue 9 Mar 07:00 reaches beyond the night of Mon 8 Mar, "
            + "which is from 22:00 to 06:00; only the part within it counts."], NotesOf(week));
        Assert.Equal(["ban"], week.Plan.Shift("mon", "ana", "22:00", "06:00").Work("mon", "saw", "05:00", "06:00", "ana")
            .BrokenRules);
    }

    [Fact]
    public void A_ban_outside_its_night_has_no_effect_and_says_so()
    {
        var week = Week.Ban("mon", "noisy", "2027-03-10T01:00", "2027-03-10T07:00");
        Assert.Empty(week.Problem.Nights[0].Bans);
        Assert.EndsWith("it has no effect. Check the date after midnight.", Assert.Single(NotesOf(week)));
    }

    [Fact]
    public void An_availability_that_reaches_beyond_its_night_is_clipped_with_a_note()
    {
        var week = Week.Person("cy", cy => cy with
        {
            Available = [new("mon", TinyWeek.Local("2027-03-08T20:00"), TinyWeek.Local("2027-03-09T02:00"))],
        });
        Assert.True(WeekFile.Check(week.Week).IsT0);
        Assert.Equal([new Span(0, 240)], week.Problem.Crew[2].ShiftWindows[0]);
        Assert.StartsWith("Cy's availability from Mon 8 Mar 20:00 to Tue 9 Mar 02:00 reaches beyond ",
            Assert.Single(NotesOf(week)));
    }

    /// <summary>The ban and Cy's hours were written up to closing. The night then closes two hours earlier.</summary>
    [Fact]
    public void A_night_may_close_before_its_bans_and_availabilities_end()
    {
        var week = Week.Ban("mon", "noisy", "2027-03-09T01:00", "2027-03-09T06:00").Person("cy", cy => cy with
        {
            Available = [new("mon", TinyWeek.Local("2027-03-09T00:00"), TinyWeek.Local("2027-03-09T06:00"))],
        });
        Assert.Empty(NotesOf(week));
        var shorter = new NightWindowMoved("mon", Closes: TinyWeek.Local("2027-03-09T04:00")).Apply(week.Week);
        Assert.True(WeekFile.Check(shorter).IsT0);
        Assert.Equal(2, PlanBuilder.Unknown(Problem.Of(shorter), []).Notes.Count);
    }
}
