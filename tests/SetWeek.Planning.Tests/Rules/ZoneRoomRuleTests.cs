using SetWeek.Model.Plans;
namespace SetWeek.Planning.Tests.Rules;

public sealed class ZoneRoomRuleTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Zone("wall", zone => zone with { MaxPeople = 2 })
        .Task("mask", 60, task => task with { Modes = [new(60, [new("hands", 2)])] }).Task("sign", 30);

    private static TinyPlan Masked(TinyWeek week) => week.Plan.Shift("mon", "ana", "22:00", "06:00")
        .Shift("mon", "bo", "22:00", "06:00")
        .Shift("mon", "cy", "22:00", "06:00").Work("mon", "mask", "22:00", "23:00", "ana", "bo");

    [Fact]
    public void A_third_person_in_a_zone_for_two_is_caught()
    {
        var breach = Masked(Week).Work("mon", "sign", "22:30", "23:00", "cy").SingleBreach;
        Assert.Equal((RuleId.ZoneRoom, "wall"), (breach.Rule, breach.About.Zone));
        Assert.Equal("At Mon 8 Mar 22:30 3 people work in Wall, which has room for 2.", breach.Sentence);
    }

    [Fact]
    public void Coming_as_the_others_go_holds() => Assert.Empty(Masked(Week).Work("mon", "sign", "23:00", "23:30", "cy").BrokenRules);

    [Fact]
    public void Another_zone_has_its_own_room() =>
        Assert.Empty(Masked(TinyWeek.New.Zone("wall", zone => zone with { MaxPeople = 2 })
                .Task("mask", 60, task => task with { Modes = [new(60, [new("hands", 2)])] })
                    .Task("sign", 30, task => task with { Zone = "floor" }))
            .Work("mon", "sign", "22:30", "23:00", "cy").BrokenRules);
}
