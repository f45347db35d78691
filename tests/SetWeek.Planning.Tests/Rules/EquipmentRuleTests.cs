using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Tests.Rules;

public sealed class EquipmentRuleTests
{
    private static readonly TinyWeek Week = TinyWeek.New.Equipment("ladder", 2).Task("lights", 60, UsesLadder(1))
        .Task("canopy", 60, UsesLadder(2));

    private static Func<WeekTask, WeekTask> UsesLadder(int count) =>
        task => task with { Modes = [task.Modes[0] with { Equipment = [new("ladder", count)] }] };

    private static TinyPlan Lights(TinyWeek week) => week.Plan.Shift("mon", "ana", "22:00", "06:00")
        .Shift("mon", "bo", "22:00", "06:00")
        .Work("mon", "lights", "22:00", "23:00", "ana");

    [Fact]
    public void More_ladders_at_once_than_the_store_has_are_caught()
    {
        var breach = Lights(Week).Work("mon", "canopy", "22:30", "23:30", "bo").SingleBreach;
        Assert.Equal((RuleId.Equipment, "ladder"), (breach.Rule, breach.About.Equipment));
        Assert.Equal("At Mon 8 Mar 22:30 work under way uses 3 of ladder; the store has 2.", breach.Sentence);
    }

    [Fact]
    public void A_ladder_passed_on_at_once_holds() =>
        Assert.Empty(Lights(Week).Work("mon", "canopy", "23:00", "00:00", "bo").BrokenRules);

    [Fact]
    public void As_many_as_there_are_hold() =>
        Assert.Empty(Lights(TinyWeek.New.Equipment("ladder", 2).Task("lights", 60, UsesLadder(1))
            .Task("canopy", 60, UsesLadder(1)))
            .Work("mon", "canopy", "22:00", "23:00", "bo").BrokenRules);
}
