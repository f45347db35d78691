using SetWeek.Model.Plans;

namespace SetWeek.Model.Tests.Rules.Order;

public sealed class DryingRuleTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Task("first coat", 60).Task("canopy", 60, after: "first coat", dry: 240);

    private static TinyPlan Coat(TinyWeek week) =>
        week.Plan.Shift("mon", "ana", "22:00", "06:00").Work("mon", "first coat", "22:00", "23:00", "ana");

    [Fact]
    public void Work_that_starts_before_the_coat_is_dry_is_caught()
    {
        var breach = Coat(Week).Work("mon", "canopy", "02:55", "03:55", "ana").SingleBreach;
        Assert.Equal((RuleId.Drying, "canopy"), (breach.Rule, breach.About.Task));
        Assert.Equal("“canopy” starts Tue 9 Mar 02:55, before “first coat” is dry at Tue 9 Mar 03:00.", breach.Sentence);
    }

    [Fact]
    public void Work_that_starts_when_the_coat_is_dry_is_allowed() =>
        Assert.Empty(Coat(Week).Work("mon", "canopy", "03:00", "04:00", "ana").BrokenRules);

    /// <summary>The day between two nights counts: 18 h from 06:00 on Tuesday is midnight.</summary>
    [Fact]
    public void Drying_goes_on_through_the_day()
    {
        var plan = TinyWeek.New.Task("glue", 60).Task("dress", 60, after: "glue", dry: 18 * 60).Plan
            .Shift("mon", "ana", "22:00", "06:00").Work("mon", "glue", "05:00", "06:00", "ana")
                .Shift("tue", "ana", "22:00", "06:00");
        Assert.Empty(plan.Work("tue", "dress", "00:00", "01:00", "ana").BrokenRules);
        Assert.Equal(["drying"], plan.Work("tue", "dress", "23:55", "00:55", "ana").BrokenRules);
    }

    /// <summary>
    /// Europe/London puts its clocks forward at 01:00 on 28 March 2027, so 00:30 to 05:30 by the clock are 4 h (the rule for
    /// the last Sunday in March: tz database, file europe).
    /// </summary>
    [Fact]
    public void Drying_counts_elapsed_time_over_a_clock_change()
    {
        var plan = Week.With(week => week with
        {
            Launch = TinyWeek.Local("2027-04-02T09:00"),
            Nights = [new("mon", TinyWeek.Local("2027-03-27T22:00"), TinyWeek.Local("2027-03-28T07:00"))],
            Crew = [.. week.Crew.Select(member => member with { Available = [new("mon")] })],
        }).Plan.Shift("mon", "ana", "22:00", "07:00").Work("mon", "first coat", "23:30", "00:30", "ana");
        Assert.Empty(plan.Work("mon", "canopy", "05:30", "06:30", "ana").BrokenRules);
        Assert.Equal(["drying"], plan.Work("mon", "canopy", "05:25", "06:25", "ana").BrokenRules);
    }
}
