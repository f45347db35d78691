using SetWeek.Model.Plans;

namespace SetWeek.Model.Tests.Rules.Shifts;

public sealed class BreakRuleTests
{
    /// <summary>The break takes 18 minutes, 20 on the 5-minute grid.</summary>
    private static readonly TinyPlan Plan = TinyWeek.New.Rules(new() { BreakAfterMinutes = 240, BreakMinutes = 18 }).Plan;

    [Fact]
    public void A_long_shift_without_a_break_is_caught()
    {
        var breach = Plan.Shift("mon", "ana", "22:00", "02:05").SingleBreach;
        Assert.Equal((RuleId.Break, "ana"), (breach.Rule, breach.About.Person));
        Assert.Equal(
            "Ana's shift is 4 h 5 min long and has no break; a shift longer than 4 h needs one of 20 min.", breach.Sentence);
    }

    [Fact]
    public void A_shift_of_exactly_the_limit_needs_no_break() =>
        Assert.Empty(Plan.Shift("mon", "ana", "22:00", "02:00").BrokenRules);

    [Fact]
    public void A_break_in_a_shift_that_owes_none_is_caught() =>
        Assert.Equal(["break"], Plan.Shift("mon", "ana", "22:00", "02:00", "00:00", "00:20").BrokenRules);

    [Theory]
    [InlineData("02:00", "02:20", true)] // 4 h before, 3 h 40 after
    [InlineData("02:05", "02:25", false)] // 4 h 5 before
    [InlineData("01:40", "02:00", true)] // 4 h after
    [InlineData("01:35", "01:55", false)] // 4 h 5 after
    [InlineData("01:50", "02:05", false)] // too short
    [InlineData("01:50", "02:15", false)] // too long
    [InlineData("21:00", "21:20", false)] // not in the shift
    public void No_work_before_or_after_the_break_exceeds_the_limit(string from, string to, bool allowed) =>
        Assert.Equal(allowed ? [] : ["break"], Plan.Shift("mon", "ana", "22:00", "06:00", from, to).BrokenRules);

    [Theory]
    [InlineData("22:55", "23:15", false)] // 55 min after the shift begins
    [InlineData("23:00", "23:20", true)]
    [InlineData("01:40", "02:00", true)]
    [InlineData("01:45", "02:05", false)] // 55 min before the shift ends
    public void A_break_keeps_clear_of_both_ends_of_the_shift(string from, string to, bool allowed)
    {
        var plan = TinyWeek.New.Rules(new() { BreakAfterMinutes = 240, BreakMinutes = 20, BreakClearMinutes = 60 }).Plan
            .Shift("mon", "ana", "22:00", "03:00", from, to);
        Assert.Equal(allowed ? [] : ["break"], plan.BrokenRules);
    }

    [Fact]
    public void The_sentence_about_a_break_near_an_end_says_how_near()
    {
        var plan = TinyWeek.New.Rules(new() { BreakAfterMinutes = 240, BreakMinutes = 20, BreakClearMinutes = 60 }).Plan;
        Assert.Equal("Ana's break starts 50 min after the shift does; at least 1 h are required.",
            plan.Shift("mon", "ana", "22:00", "03:00", "22:50", "23:10").SingleBreach.Sentence);
        Assert.Equal("Ana's break ends 50 min before the shift does; at least 1 h are required.",
            plan.Shift("mon", "ana", "22:00", "03:00", "01:50", "02:10").SingleBreach.Sentence);
    }

    [Theory]
    [InlineData("22:00", "22:20", false)] // before all work
    [InlineData("23:20", "23:40", true)]
    [InlineData("01:00", "01:20", false)] // after all work
    public void A_break_lies_after_the_first_work_and_before_the_last(string from, string to, bool allowed) =>
        Assert.Equal(allowed ? [] : ["break"], TwoPieces(from, to).BrokenRules);

    [Fact]
    public void The_sentence_about_a_break_outside_work_names_that_work()
    {
        Assert.Equal("Ana's break Mon 8 Mar 22:00 to 22:20 comes before the end of the first work of the shift, “a”, "
            + "at Mon 8 Mar 23:20.", TwoPieces("22:00", "22:20").SingleBreach.Sentence);
        Assert.Equal("Ana's break Tue 9 Mar 01:00 to 01:20 comes after the start of the last work of the shift, “b”, "
            + "at Tue 9 Mar 00:00.", TwoPieces("01:00", "01:20").SingleBreach.Sentence);
    }

    /// <summary>A break beside a single piece of work may lie on either side of it.</summary>
    [Theory]
    [InlineData("22:00", "22:20")]
    [InlineData("23:20", "23:40")]
    public void A_single_piece_of_work_has_no_two_between_which_a_break_could_lie(string from, string to) =>
        Assert.Empty(TinyWeek.New.Rules(new() { BreakAfterMinutes = 180, BreakMinutes = 20 }).Task("a", 60).Plan
            .Shift("mon", "ana", "22:00", "01:20", from, to).Work("mon", "a", "22:20", "23:20", "ana").BrokenRules);

    /// <summary>
    /// Ana opens until 22:15, works from 22:30 to 23:00 and closes from 02:45: three pieces. Her break may come after her work,
    /// but not while she opens or closes.
    /// </summary>
    [Theory]
    [InlineData("22:10", "22:30", false)]
    [InlineData("22:15", "22:35", false, "on-shift")]
    [InlineData("02:00", "02:20", true)]
    [InlineData("02:25", "02:45", true)]
    [InlineData("02:30", "02:50", false)]
    public void Opening_and_closing_are_work_of_the_keyholder(string from, string to, bool allowed, string? other = null)
    {
        var plan = TinyWeek.New.Rules(new()
        {
            BreakAfterMinutes = 270, BreakMinutes = 20, KeyholderPresent = true, OpeningMinutes = 15, ClosingMinutes = 15,
        }).Task("a", 30).Plan.Keyholder("mon", "ana")
            .Shift("mon", "ana", "22:00", "03:00", from, to).Work("mon", "a", "22:30", "23:00", "ana");
        Assert.Equal(other is not null ? [other] : allowed ? [] : ["break"], plan.BrokenRules);
    }

    private static TinyPlan TwoPieces(string from, string to) =>
        TinyWeek.New.Rules(new() { BreakAfterMinutes = 185, BreakMinutes = 20 }).Task("a", 60).Task("b", 60).Plan
            .Shift("mon", "ana", "22:00", "01:25", from, to)
            .Work("mon", "a", "22:20", "23:20", "ana").Work("mon", "b", "00:00", "01:00", "ana");

    [Theory]
    [InlineData(null, 20)]
    [InlineData(240, null)]
    public void Without_both_numbers_no_break_is_owed_and_none_is_allowed(int? after, int? minutes)
    {
        var plan = TinyWeek.New.Rules(new() { BreakAfterMinutes = after, BreakMinutes = minutes }).Plan;
        Assert.Empty(plan.Shift("mon", "ana", "22:00", "06:00").BrokenRules);
        Assert.Equal(["break"], plan.Shift("mon", "ana", "22:00", "06:00", "02:00", "02:20").BrokenRules);
    }
}
