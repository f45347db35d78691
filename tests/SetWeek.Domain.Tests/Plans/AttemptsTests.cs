using SetWeek.Domain.Plans;

namespace SetWeek.Domain.Tests.Plans;

public sealed class AttemptsTests
{
    private static readonly CandidatePlan Queued = Example.Candidate with { State = CandidateState.Queued };

    [Fact]
    public void A_plan_fails_after_three_attempts_without_a_result()
    {
        var third = Queued.Started().Started().Started();
        Assert.Equal((CandidateState.Solving, 3), (third.State, third.Attempts));
        Assert.Null(third.Failure);

        var givenUp = third.Started();
        Assert.Equal((CandidateState.Failed, true), (givenUp.State, givenUp.Settled));
        Assert.StartsWith("The search was started 3 times, and the service ended each time", givenUp.Failure);
    }

    [Fact]
    public void An_orderly_stop_does_not_count_as_an_attempt()
    {
        var restarted = Enumerable.Range(0, 10).Aggregate(Queued, (plan, _) => plan.Started().WithoutLastAttempt());
        Assert.Equal((CandidateState.Solving, 1), (restarted.Started().State, restarted.Started().Attempts));
    }
}
