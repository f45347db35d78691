using SetWeek.Model.Plans;
namespace SetWeek.Planning.Tests.Rules;

public sealed class WindowRuleTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Task("cure", 60, task => task with { Modes = [new(60, [])] });

    [Fact]
    public void Work_before_the_night_opens_is_caught()
    {
        var breach = Week.Plan.Work("mon", "cure", "21:55", "22:55").SingleBreach;
        Assert.Equal((RuleId.Window, "mon"), (breach.Rule, breach.About.Night));
        Assert.Equal("cure runs Mon 8 Mar 21:55 to 22:55; the night is Mon 8 Mar 22:00 to 06:00.", breach.Sentence);
    }

    [Fact]
    public void Work_past_closes_is_caught() =>
        Assert.Equal(["window"], Week.Plan.Work("tue", "cure", "05:30", "06:30").BrokenRules);

    [Fact]
    public void Work_from_opens_and_work_to_closes_hold()
    {
        Assert.Empty(Week.Plan.Work("mon", "cure", "22:00", "23:00").BrokenRules);
        Assert.Empty(Week.Plan.Work("mon", "cure", "05:00", "06:00").BrokenRules);
    }

    /// <summary>Ana is free until 07:00, so only the night's hours stand against the shift.</summary>
    [Fact]
    public void A_shift_past_closes_is_caught() =>
        Assert.Equal(["window"], Week.Person("ana", ana => ana with { Available = [new("mon",
            To: TinyWeek.Local("2027-03-09T07:00"))] })
            .Plan.Work("mon", "cure", "22:00", "23:00").Shift("mon", "ana", "02:00", "06:05").BrokenRules);
}
