using SetWeek.Model.Plans;
namespace SetWeek.Planning.Tests.Rules;

public sealed class KeyholderRuleTests
{
    private static readonly TinyPlan Plan = TinyWeek.New.Rules(new() { KeyholderPresent = true }).Plan;

    [Fact]
    public void A_shift_that_the_keyholder_does_not_span_is_caught()
    {
        var breach = Plan.Shift("mon", "ana", "22:15", "02:00").Shift("mon", "cy", "22:00", "02:00").Keyholder("mon", "ana")
            .SingleBreach;
        Assert.Equal((RuleId.Keyholder, "mon"), (breach.Rule, breach.About.Night));
        Assert.Equal("The night of Mon 8 Mar has no keyholder whose shift spans all the others.", breach.Sentence);
    }

    [Fact]
    public void The_same_hours_hold() =>
        Assert.Empty(Plan.Shift("mon", "ana", "22:00", "02:00").Shift("mon", "cy", "22:00", "02:00").Keyholder("mon", "ana")
            .BrokenRules);

    [Fact]
    public void A_night_with_shifts_names_its_keyholder() =>
        Assert.Equal(["keyholder"], Plan.Shift("mon", "ana", "22:00", "02:00").BrokenRules);

    [Fact]
    public void Somebody_without_keys_is_no_keyholder() =>
        Assert.Equal(["keyholder"], Plan.Shift("mon", "cy", "22:00", "02:00").Keyholder("mon", "cy").BrokenRules);

    [Fact]
    public void The_first_in_crew_order_that_fits_is_named()
    {
        var both = Plan.Shift("mon", "bo", "22:00", "02:00").Shift("mon", "ana", "22:00", "02:00");
        Assert.Empty(both.Keyholder("mon", "ana").BrokenRules);
        Assert.Equal("The night of Mon 8 Mar names Bo as keyholder; Ana is the first whose shift spans all the others.",
            both.Keyholder("mon", "bo").SingleBreach.Sentence);
        // Ana leaves earlier, so only Bo fits.
        Assert.Empty(Plan.Shift("mon", "bo", "22:00", "02:00").Shift("mon", "ana", "22:00", "01:00").Keyholder("mon", "bo")
            .BrokenRules);
    }

    [Fact]
    public void Where_nobody_need_be_present_nobody_is_named() =>
        Assert.Empty(TinyWeek.New.Plan.Shift("mon", "cy", "22:00", "02:00").BrokenRules);
}
