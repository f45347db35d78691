using CsCheck;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Reasons;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Explaining.Reasons;

/// <summary>
/// Who could replace a person at a task, derived by hand at each test. Ana does the task. She and Bo cost 12.00 an hour, Cy 6.00.
/// </summary>
public sealed class SubstituteTests
{
    private static readonly SearchLimits Enough = new() { Effort = 10, Workers = 1 };

    private static readonly TinyWeek Week = TinyWeek.New.Person("cy", member => member with { RatePerHour = 600 })
        .With(week => week with { Goals = [new(GoalId.Cost)] });

    /// <summary>Cy's hour costs 6.00 less than Ana's.</summary>
    [Fact]
    public void A_free_person_can_substitute_at_the_difference_of_their_rates()
    {
        var others = Others(Week.Task("a", 60), plan => plan);
        Assert.Equal([("bo", 0L), ("cy", -600L)], others.Select(other => (other.Person, other.Goals!.Single().Difference)));
        Assert.All(others, other => Assert.True(other is { Stopped.Count: 0, Proven: true }));
    }

    [Fact]
    public void Somebody_without_the_skill_level_cannot_substitute()
    {
        var other = Others(Week.Person("bo", member => member with { Skills = new Dictionary<string, int> { ["hands"] = 1 } })
            .Task("a", 60, task => task with { Modes = [new(60, [new("hands", 1) { Level = 2 }])] }), plan => plan)[0];
        Assert.Equal(("Bo has “hands” at level 1, and level 2 is needed.", true),
            (other.Stopped.Single().Sentence, other.Proven));
        Assert.Null(other.Goals);
    }

    /// <summary>Bo works at b at that time, but Ana can take over b at the same cost.</summary>
    [Fact]
    public void Somebody_at_other_work_can_substitute_by_an_exchange()
    {
        var other = Others(Week.Person("cy", member => member with { Available = [] }).Task("a", 60).Task("b", 60), plan => plan
            .Shift("mon", "bo", "22:00", "23:00").Work("mon", "b", "22:00", "23:00", "bo"))[0];
        Assert.Equal("Bo works on “b” until Mon 8 Mar 23:00.", other.Stopped.Single().Sentence);
        Assert.Equal((0L, true, true), (other.Goals!.Single().Difference, other.Rearranged, other.Proven));
    }

    [Fact]
    public void Somebody_not_available_cannot_substitute()
    {
        var other = Others(Week.Person("bo", member => member with { Available = [] }).Task("a", 60), plan => plan)[0];
        Assert.Equal([RuleId.Availability], other.Stopped.Select(hold => hold.Rule));
        Assert.Equal((null, true), (other.Goals, other.Proven));
    }

    /// <summary>Day work ends at 14:00, so after eleven hours of rest the earliest shift starts at 01:00.</summary>
    [Fact]
    public void Somebody_who_must_rest_cannot_substitute_in_any_plan()
    {
        var other = Others(Week.Rules(new() { MinRestMinutes = 660 }).Busy("bo", "2027-03-08T08:00", "2027-03-08T14:00")
            .Task("a", 60), plan => plan)[0];
        Assert.Equal([RuleId.Rest], other.Stopped.Select(hold => hold.Rule));
        Assert.Equal((null, true), (other.Goals, other.Proven));
    }

    [Fact]
    public void Somebody_under_18_cannot_substitute_at_barred_work()
    {
        var other = Others(Week.Rules(new() { Under18 = new() { Barred = ["ladder"] } })
            .Person("bo", member => member with { Under18 = true })
            .Task("a", 60, task => task with { Traits = ["ladder"] }), plan => plan)[0];
        Assert.Equal([RuleId.YoungWorker], other.Stopped.Select(hold => hold.Rule));
        Assert.Equal((null, true), (other.Goals, other.Proven));
    }

    /// <summary>Cy would be alone without a keyholder, so Ana stays too and both are paid.</summary>
    [Fact]
    public void A_substitute_who_breaks_a_rule_of_the_night_gets_another_plan()
    {
        var other = Others(Week.Rules(new() { KeyholderPresent = true })
            .Person("bo", member => member with { Available = [] }).Task("a", 60),
            plan => plan.Keyholder("mon", "ana"))[1];
        Assert.Equal(("cy", 600L), (other.Person, other.Goals!.Single().Difference));
    }

    /// <summary>
    /// If the exchange alone breaks no rule, the plan with the substitute has goal values. If the skill is missing or the law
    /// bars it, there is no such plan.
    /// </summary>
    [Fact]
    public void Every_possible_substitute_in_random_weeks_has_a_price() => TinyWeekGenerator.Any.Sample(week =>
    {
        var plan = Planner.Plan(week, new() { Effort = 0.5, Workers = 1 });
        foreach (var work in plan.Nights.SelectMany(night => night.Work).Where(work => work.Task is not null).Take(3))
            foreach (var other in Why.Of(Problem.Of(week), plan, work.Task!, work.Stint!.Value,
                new() { Effort = 1, Workers = 1 })!.People.SelectMany(person => person.Others))
            {
                if (other.Stopped.Count == 0) Assert.NotNull(other.Goals);
                if (other.Stopped.Any(hold => hold.Rule is RuleId.Skill or RuleId.YoungWorker)) Assert.Null(other.Goals);
            }
    }, iter: 12, threads: 1);

    /// <summary>A plan in which Ana does a from 22:00 to 23:00, with extend work or shifts added.</summary>
    private static IReadOnlyList<Substitute> Others(TinyWeek week, Func<TinyPlan, TinyPlan> extend)
    {
        var plan = extend(week.Plan.Shift("mon", "ana", "22:00", "23:00").Work("mon", "a", "22:00", "23:00", "ana"));
        Assert.Empty(plan.BrokenRules);
        return Why.Of(plan.Problem, plan.AsPlan, "a", 1, Enough)!.People.Single().Others;
    }
}
