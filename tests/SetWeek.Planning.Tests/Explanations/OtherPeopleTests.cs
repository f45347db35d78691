using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using CsCheck;
using SetWeek.Model.Problems;
using SetWeek.Planning.Explaining.Reasons;
using SetWeek.Planning.Search;
using SetWeek.Planning.Tests.Generated;

namespace SetWeek.Planning.Tests.Explanations;

/// <summary>
/// Who else could be on a task, the answer argued beside it. Ana is on it; she and bo cost 12.00 an hour, cy 6.00.
/// </summary>
public sealed class OtherPeopleTests
{
    private static readonly SearchLimits Enough = new() { Effort = 10, Workers = 1 };

    private static readonly TinyWeek Week = TinyWeek.New.Person("cy", member => member with { RatePerHour = 600 })
        .With(week => week with { Goals = [new(GoalId.Cost)] });

    /// <summary>An hour of cy's instead of an hour of ana's.</summary>
    [Fact]
    public void Somebody_who_is_free_could_and_the_difference_is_what_they_cost()
    {
        var others = Others(Week.Task("a", 60), plan => plan);
        Assert.Equal([("bo", 0L), ("cy", -600L)], others.Select(other => (other.Person, other.Goals!.Single().Difference)));
        Assert.All(others, other => Assert.True(other is { Stopped.Count: 0, Proven: true }));
    }

    [Fact]
    public void Somebody_without_the_skill_could_not()
    {
        var other = Others(Week.Person("bo", member => member with { Skills = new Dictionary<string, int> { ["hands"] = 1 } })
            .Task("a", 60, task => task with { Modes = [new(60, [new("hands", 1) { Level = 2 }])] }), plan => plan)[0];
        Assert.Equal(("Bo has “hands” at level 1, and level 2 is wanted.", true),
            (other.Stopped.Single().Sentence, other.Proven));
        Assert.Null(other.Goals);
    }

    /// <summary>Bo is at b meanwhile; but ana can take that over, so that nothing is lost.</summary>
    [Fact]
    public void Somebody_who_is_busy_could_change_places()
    {
        var other = Others(Week.Person("cy", member => member with { Available = [] }).Task("a", 60).Task("b", 60), plan => plan
            .Shift("mon", "bo", "22:00", "23:00").Work("mon", "b", "22:00", "23:00", "bo"))[0];
        Assert.Equal("Bo is at b until Mon 8 Mar 23:00.", other.Stopped.Single().Sentence);
        Assert.Equal((0L, true, true), (other.Goals!.Single().Difference, other.Rearranged, other.Proven));
    }

    [Fact]
    public void Somebody_who_is_not_there_could_not()
    {
        var other = Others(Week.Person("bo", member => member with { Available = [] }).Task("a", 60), plan => plan)[0];
        Assert.Equal([RuleId.Availability], other.Stopped.Select(hold => hold.Rule));
        Assert.Equal((null, true), (other.Goals, other.Proven));
    }

    /// <summary>A day until 14:00 and eleven hours of rest: the earliest shift is at 01:00.</summary>
    [Fact]
    public void Somebody_who_must_rest_could_not_however_the_night_is_arranged()
    {
        var other = Others(Week.Rules(new() { MinRestMinutes = 660 }).Busy("bo", "2027-03-08T08:00", "2027-03-08T14:00")
            .Task("a", 60), plan => plan)[0];
        Assert.Equal([RuleId.Rest], other.Stopped.Select(hold => hold.Rule));
        Assert.Equal((null, true), (other.Goals, other.Proven));
    }

    [Fact]
    public void Somebody_under_18_could_not_do_what_is_barred_to_them()
    {
        var other = Others(Week.Rules(new() { Under18 = new() { Barred = ["ladder"] } })
            .Person("bo", member => member with { Under18 = true })
            .Task("a", 60, task => task with { Traits = ["ladder"] }), plan => plan)[0];
        Assert.Equal([RuleId.YoungWorker], other.Stopped.Select(hold => hold.Rule));
        Assert.Equal((null, true), (other.Goals, other.Proven));
    }

    /// <summary>Cy would be there without a keyholder, unless ana stays: one of the others is paid beside cy.</summary>
    [Fact]
    public void What_breaks_a_rule_of_the_night_is_said_and_solved_around()
    {
        var other = Others(Week.Rules(new() { KeyholderPresent = true })
            .Person("bo", member => member with { Available = [] }).Task("a", 60),
            plan => plan.Keyholder("mon", "ana"))[1];
        Assert.Equal(("cy", 600L), (other.Person, other.Goals!.Single().Difference));
    }

    /// <summary>
    /// Where a mere exchange breaks nothing there is a plan; where the skill is missing, or the law bars it, there is none.
    /// </summary>
    [Fact]
    public void What_could_be_has_a_price_in_every_week_made_by_chance() => TinyWeekGenerator.Any.Sample(week =>
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

    /// <summary>Ana is on a from 22:00 to 23:00; more is added to that.</summary>
    private static IReadOnlyList<Substitute> Others(TinyWeek week, Func<TinyPlan, TinyPlan> more)
    {
        var plan = more(week.Plan.Shift("mon", "ana", "22:00", "23:00").Work("mon", "a", "22:00", "23:00", "ana"));
        Assert.Empty(plan.BrokenRules);
        return Why.Of(plan.Problem, plan.AsPlan, "a", 1, Enough)!.People.Single().Others;
    }
}
