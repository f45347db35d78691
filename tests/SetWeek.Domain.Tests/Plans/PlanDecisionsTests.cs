using SetWeek.Domain.Plans;
using SetWeek.Model.Plans;
using static SetWeek.Domain.Tests.Example;

namespace SetWeek.Domain.Tests.Plans;

public sealed class PlanDecisionsTests
{
    private static readonly Breach Late = new(RuleId.Launch, new RuleSubject(), "Work goes on after launch.");

    [Fact]
    public void A_ready_plan_with_a_current_input_is_published()
    {
        var published = Given().Publish(Candidate, overtaken: false, [], [], Crew).AsT0;
        Assert.Equal(("plan-2", "hash-2"), (published.PlanId, published.InputHash));
        Assert.Same(published.Plan, Given(published).Published!.Plan);
    }

    [Fact]
    public void A_plan_with_an_outdated_input_is_refused_with_the_new_events()
    {
        var refusal = Given().Publish(Candidate, overtaken: true, [], ["Paint is due later."], Crew).AsT1;
        Assert.Equal("overtaken", refusal.Code);
        Assert.Equal(["Paint is due later."], refusal.Because);
    }

    [Fact]
    public void A_plan_that_now_breaks_a_rule_is_refused_with_the_breach()
    {
        var refusal = Given().Publish(Candidate, overtaken: false, [Late], [], Crew).AsT1;
        Assert.Equal("breaks-rules", refusal.Code);
        Assert.Equal([Late.Sentence], refusal.Because);
    }

    [Theory]
    [InlineData(CandidateState.Queued), InlineData(CandidateState.Solving), InlineData(CandidateState.None),
        InlineData(CandidateState.Cancelled)]
    public void A_candidate_without_a_plan_cannot_be_published(CandidateState state) =>
        Assert.Equal("plan-not-ready", Given().Publish(Candidate with { State = state }, overtaken: false, [], [], Crew).AsT1.Code);

    [Fact]
    public void A_plan_is_published_once() =>
        Assert.Equal("published-already",
            Given(Published).Publish(Candidate with { Id = "plan-1" }, overtaken: false, [], [], Crew).AsT1.Code);

    [Fact]
    public void The_sentences_in_the_event_name_people_by_id()
    {
        var named = Worked with { Breaches = [new Breach(RuleId.Rest, new RuleSubject { Person = "p1" },
            "Asha Rowan has 8 h of rest, Asha Rowan-Smith more.")] };
        var published = Given().Publish(Candidate with { Plan = named }, overtaken: false, [], [], Crew).AsT0;
        Assert.DoesNotContain("Asha Rowan has", published.Plan.Breaches[0].Sentence);
        Assert.StartsWith("p1 has 8 h of rest", published.Plan.Breaches[0].Sentence);
    }
}
