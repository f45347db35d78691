using SetWeek.Model.Plans;

namespace SetWeek.Model.Tests.Rules.People;

public sealed class SkillRuleTests
{
    /// <summary>Posing asks for one dresser at level 2 and one at any level. Ana has 3, Bo 1, Cy none.</summary>
    private static readonly TinyWeek Week = TinyWeek.New
        .Person("ana", ana => ana with { Skills = new Dictionary<string, int> { ["dressing"] = 3 } })
        .Person("bo", bo => bo with { Skills = new Dictionary<string, int> { ["dressing"] = 1 } })
        .Task("pose", 60, task => task with { Modes = [new(60, [new("dressing", 1), new("dressing", 1) { Level = 2 }])] });

    private static TinyPlan Posed(TinyWeek week, params string[] hands) => week.Plan
        .Shift("mon", "ana", "22:00", "06:00").Shift("mon", "bo", "22:00", "06:00").Shift("mon", "cy", "22:00", "06:00")
        .Work("mon", "pose", "22:00", "23:00", hands);

    /// <summary>
    /// The roles are listed with the lowest level first. One assignment fits, in whatever order the people are named.
    /// </summary>
    [Fact]
    public void The_order_of_people_with_one_skill_has_no_effect()
    {
        Assert.Empty(Posed(Week, "ana", "bo").BrokenRules);
        Assert.Empty(Posed(Week, "bo", "ana").BrokenRules);
    }

    [Fact]
    public void Somebody_below_the_level_is_caught()
    {
        var breach = Posed(Week.Person("ana", ana => ana with { Skills = new Dictionary<string, int> { ["dressing"] = 1 } }),
            "ana", "bo").SingleBreach;
        Assert.Equal((RuleId.Skill, "pose", "dressing"), (breach.Rule, breach.About.Task, breach.About.Skill));
        Assert.Equal("“pose” needs dressing at level 1, 2; its people have level 1, 1.", breach.Sentence);
    }

    [Fact]
    public void Somebody_without_the_skill_is_caught() =>
        Assert.Equal(["skill"], Posed(Week, "ana:dressing", "cy:dressing").BrokenRules);

    [Fact]
    public void One_person_too_few_is_caught() => Assert.Equal(["skill"], Posed(Week, "ana").BrokenRules);

    [Fact]
    public void One_person_too_many_is_caught() => Assert.Equal(["skill"], Posed(Week, "ana", "bo", "cy:hands").BrokenRules);

    [Fact]
    public void One_person_in_two_roles_is_caught() => Assert.Equal(["skill"], Posed(Week, "ana", "ana").BrokenRules);

    [Fact]
    public void Exactly_the_level_is_allowed() =>
        Assert.Empty(Posed(Week.Person("ana", ana => ana with { Skills = new Dictionary<string, int> { ["dressing"] = 2 } }),
            "ana", "bo").BrokenRules);

    [Fact]
    public void A_clean_down_without_its_people_is_caught()
    {
        var plan = TinyWeek.New.CleanDown("wall", 10).Task("mask", 60).Plan
            .Shift("mon", "ana", "22:00", "06:00").Work("mon", "mask", "22:00", "23:00", "ana");
        Assert.Equal(["skill"], plan.CleanDown("mon", "wall", "23:00", "23:10").BrokenRules);
        Assert.Empty(plan.CleanDown("mon", "wall", "23:00", "23:10", "ana").BrokenRules);
    }
}
