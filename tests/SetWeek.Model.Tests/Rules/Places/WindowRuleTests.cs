using SetWeek.Model.Plans;

namespace SetWeek.Model.Tests.Rules.Places;

public sealed class WindowRuleTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Task("cure", 60, task => task with { Modes = [new(60, [])] });

    [Fact]
    public void Work_before_the_night_opens_is_caught()
    {
        var breach = Week.Plan.Work("mon", "cure", "21:55", "22:55").SingleBreach;
        Assert.Equal((RuleId.Window, "mon"), (breach.Rule, breach.About.Night));
        Assert.Equal("“cure” runs Mon 8 Mar 21:55 to 22:55; the night is Mon 8 Mar 22:00 to 06:00.", breach.Sentence);
    }

    [Fact]
    public void Work_after_the_night_closes_is_caught() =>
        Assert.Equal(["window"], Week.Plan.Work("tue", "cure", "05:30", "06:30").BrokenRules);

    [Fact]
    public void Work_that_starts_at_the_opening_or_ends_at_the_closing_is_allowed()
    {
        Assert.Empty(Week.Plan.Work("mon", "cure", "22:00", "23:00").BrokenRules);
        Assert.Empty(Week.Plan.Work("mon", "cure", "05:00", "06:00").BrokenRules);
    }

    /// <summary>Ana is available until 07:00, so the shift breaks the night's hours alone.</summary>
    [Fact]
    public void A_shift_past_the_closing_is_caught() =>
        Assert.Equal(["window"], Week.Person("ana", ana => ana with { Available = [new("mon",
            To: TinyWeek.Local("2027-03-09T07:00"))] })
            .Plan.Work("mon", "cure", "22:00", "23:00").Shift("mon", "ana", "02:00", "06:05").BrokenRules);
}
