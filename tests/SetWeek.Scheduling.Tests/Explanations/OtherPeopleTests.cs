using SetWeek.Scheduling.Explanations;
using Xunit;

namespace SetWeek.Scheduling.Tests.Explanations;

/// <summary>Who else could be on a task, and what that would cost; ana does an hour on Monday at 12.00.</summary>
public sealed class OtherPeopleTests
{
    private static readonly Limits Limits = new() { Effort = 3, Workers = 1 };

    /// <summary>Bo is free and costs 18.00: 6.00 more. Cy cannot come.</summary>
    [Fact]
    public void Somebody_who_is_free_could_at_the_difference_of_their_rates_and_somebody_who_is_not_there_could_not()
    {
        var week = TinyWeek.New.Task("a", 60).Person("bo", bo => bo with { RatePerHour = 1800 }).Person("cy", cy => cy with { Available = [] });

        var others = Others(week.Plan.Shift("mon", "ana", "22:00", "23:00").Work("mon", "a", "22:00", "23:00", "ana"));

        var bo = others.Single(other => other.Person == "bo");
        Assert.Empty(bo.Stopped);
        Assert.Equal(600, bo.Goals!.Single(goal => goal.Goal == "cost").Difference);
        Assert.True(bo.Proven);
        var cy = others.Single(other => other.Person == "cy");
        Assert.Equal(["availability"], cy.Stopped.Select(held => held.Rule));
        Assert.Null(cy.Goals);
        Assert.True(cy.Proven);
    }

    /// <summary>Bo is on the other task at that time; ana, at the same rate, can take it, so that they change places at no cost.</summary>
    [Fact]
    public void Somebody_who_is_at_other_work_could_where_the_night_is_arranged_anew()
    {
        var week = TinyWeek.New.Task("a", 60).Task("b", 60);

        var bo = Others(week.Plan.Shift("mon", "ana", "22:00", "23:00").Shift("mon", "bo", "22:00", "23:00")
            .Work("mon", "a", "22:00", "23:00", "ana").Work("mon", "b", "22:00", "23:00", "bo")).Single(other => other.Person == "bo");

        Assert.Equal(["one-place"], bo.Stopped.Select(held => held.Rule));
        Assert.True(bo.Rearranged);
        Assert.Equal(0, bo.Goals!.Single(goal => goal.Goal == "cost").Difference);
    }

    [Fact]
    public void Somebody_under_18_could_not_be_on_what_is_barred_to_them_however_the_night_is_arranged()
    {
        var week = TinyWeek.New.Task("a", 60, task => task with { Traits = ["ladder"] }).Person("bo", bo => bo with { Under18 = true })
            .Rules(new RuleSet { Under18 = new() { Barred = ["ladder"] } });

        var bo = Others(week.Plan.Shift("mon", "ana", "22:00", "23:00").Work("mon", "a", "22:00", "23:00", "ana")).Single(other => other.Person == "bo");

        Assert.Equal(["young-worker"], bo.Stopped.Select(held => held.Rule).Distinct());
        Assert.Equal((null, true), (bo.Goals, bo.Proven));
        Assert.Equal(bo.Stopped.Count, bo.Stopped.DistinctBy(held => held.Sentence).Count());
    }

    private static IReadOnlyList<OtherPerson> Others(TinyPlan plan) =>
        Assert.Single(Why.Of(plan.Problem, plan.AsPlan, "a", 1, Limits)!.People).Others;
}
