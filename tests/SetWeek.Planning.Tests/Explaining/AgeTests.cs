using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Tests;
using SetWeek.Planning.Explaining.Conflicts;
using SetWeek.Planning.Explaining.Reasons;
using SetWeek.Planning.Explaining.Slack;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Explaining;

/// <summary>
/// Sentences on a person to whom the rules for young workers apply say what holds for the person. None tells the age: crew read
/// them on the pages of a plan.
/// </summary>
public sealed class AgeTests
{
    /// <summary>Every way in which a sentence could tell an age; a time such as 18:00 is none.</summary>
    private const string Age = @"(?i)\b(under.?1[68]s?|1[5-8](?!:)|eighteen|young\w*|minors?|adults?|ages?|aged|years?|child\w*|teen\w*)\b";

    private static readonly SearchLimits Enough = new() { Effort = 10, Workers = 1 };

    /// <summary>Ana and Cy go by 23:00 and do no ladder work, for example the lights. Nights open at 22:00.</summary>
    private static readonly TinyWeek Week = TinyWeek.New
        .Rules(new() { Under18 = new() { Until = new(23, 0), Barred = ["ladder", "paint"], MinRestMinutes = 720,
            MaxShiftMinutes = 60, BreakAfterMinutes = 270, BreakMinutes = 30 } })
        .Person("ana", ana => ana with { Under18 = true }).Person("cy", cy => cy with { Under18 = true })
        .Task("lights", 60, task => task with { Traits = ["ladder"] });

    [Fact]
    public void What_a_plan_breaks_is_said_without_an_age()
    {
        var plan = Week.Plan.Shift("mon", "ana", "22:00", "23:30").Work("mon", "lights", "22:00", "23:00", "ana");
        var broken = Checker.Check(plan.Problem, plan.Schedule);
        Assert.Equal(2, broken.Count(breach => breach.Rule == RuleId.YoungWorker));
        AssertNoAge(broken.Select(breach => breach.Sentence));
    }

    [Fact]
    public void What_a_conflict_can_name_is_said_without_an_age()
    {
        var all = AllRelaxableRules.Of(Week.Week).SelectMany(rule => rule.Parts.Prepend(rule)).ToList();
        Assert.Equal(["People who are to be home by an hour, or do not do every kind of work: Ana, Cy.",
            "Ana is to be home by 23:00 and does no “ladder” or “paint” work.",
            "Cy is to be home by 23:00 and does no “ladder” or “paint” work."],
            all.Where(rule => rule.Rule == RuleId.YoungWorker).Select(rule => rule.Sentence));
        AssertNoAge(all.Select(rule => rule.Sentence));
    }

    /// <summary>Bo, the only one who may do the lights, does not come.</summary>
    [Fact]
    public void A_week_without_a_plan_says_why_and_what_helps_without_an_age()
    {
        var none = Planner.Plan(Week.Person("bo", bo => bo with { Available = [] }).Week, Enough);
        Assert.Contains(none.Conflict, breach => breach.Rule == RuleId.YoungWorker);
        AssertNoAge([.. none.Conflict.Concat(none.Unplaced).Select(breach => breach.Sentence),
            .. none.Repairs.Select(repair => repair.Sentence), .. none.Notes]);
    }

    [Fact]
    public void A_shift_without_slack_is_said_as_for_everybody()
    {
        var plan = Week.Task("sweep", 60).Plan.Shift("mon", "ana", "22:00", "23:00").Work("mon", "sweep", "22:00", "23:00", "ana")
            .Shift("mon", "bo", "22:00", "23:00").Work("mon", "lights", "22:00", "23:00", "bo");
        var tight = TightRules.Of(plan.Problem, plan.Schedule);
        Assert.Equal("Ana's shift Mon 8 Mar 22:00 to 23:00 ends when Ana must leave.",
            tight.Single(breach => breach.Rule == RuleId.YoungWorker).Sentence);
        AssertNoAge(tight.Select(breach => breach.Sentence));
    }

    /// <summary>Ana has said that she leaves at 23:00. A second sentence in the same words would say that there is another reason.</summary>
    [Fact]
    public void Two_reasons_to_leave_at_an_hour_are_said_once()
    {
        var plan = Week.Task("sweep", 60)
            .Person("ana", ana => ana with { Available = [new("mon", null, new(2027, 3, 8, 23, 0))] })
            .Plan.Shift("mon", "ana", "22:00", "23:00").Work("mon", "sweep", "22:00", "23:00", "ana");
        Assert.Single(TightRules.Of(plan.Problem, plan.Schedule),
            breach => breach.Sentence == "Ana's shift Mon 8 Mar 22:00 to 23:00 ends when Ana must leave.");
    }

    [Fact]
    public void Why_somebody_cannot_take_over_is_said_without_an_age()
    {
        var plan = Week.Plan.Shift("mon", "bo", "22:30", "23:30").Work("mon", "lights", "22:30", "23:30", "bo");
        var why = Why.Of(plan.Problem, plan.AsPlan, "lights", 1, Enough)!;
        var stopped = why.People.SelectMany(person => person.Others).SelectMany(other => other.Stopped).ToList();
        Assert.Contains(stopped, hold => hold.Rule == RuleId.YoungWorker);
        AssertNoAge([.. stopped.Concat(why.Here.Holds).Concat(why.AtAll?.Because ?? []).Select(hold => hold.Sentence)]);
    }

    private static void AssertNoAge(IEnumerable<string> sentences) =>
        Assert.All(sentences, sentence => Assert.DoesNotMatch(Age, sentence));
}
