using SetWeek.Model.Plans;

namespace SetWeek.Model.Tests.Rules.Order;

public sealed class LaunchRuleTests
{
    /// <summary>The launch is at 05:00 in the night of Monday. The hour before it is kept free of work.</summary>
    private static readonly TinyPlan Plan = TinyWeek.New.Task("mask", 60).Rules(new() { LaunchBufferMinutes = 60 })
        .With(week => week with { Launch = TinyWeek.Local("2027-03-09T05:00") }).Plan.Shift("mon", "ana", "22:00", "06:00");

    [Fact]
    public void Work_that_ends_in_the_buffer_is_caught()
    {
        var breach = Plan.Work("mon", "mask", "03:05", "04:05", "ana").SingleBreach;
        Assert.Equal((RuleId.Launch, "mask"), (breach.Rule, breach.About.Task));
        Assert.Equal("“mask” ends Tue 9 Mar 04:05; all work must end by Tue 9 Mar 04:00 for the launch.", breach.Sentence);
    }

    [Fact]
    public void Work_that_ends_as_the_buffer_begins_is_allowed() =>
        Assert.Empty(Plan.Work("mon", "mask", "03:00", "04:00", "ana").BrokenRules);
}
