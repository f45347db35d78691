using SetWeek.Domain.Plans;

namespace SetWeek.Domain.Tests.Plans;

public sealed class AttemptsTests
{
    private static readonly CandidatePlan Queued = Example.Candidate with { State = CandidateState.Queued };

    [Fact]
    public void A_plan_fails_after_three_attempts_without_a_result()
    {
        var third = Queued.Started(3);
        Assert.Equal((CandidateState.Solving, 3), (third.State, third.Attempts));
        Assert.Null(third.Failure);

        var givenUp = third.Started(4);
        Assert.Equal((CandidateState.Failed, true), (givenUp.State, givenUp.Settled));
        Assert.StartsWith("The search was started 3 times, and the service ended each time", givenUp.Failure);
    }

    [Theory]
    [InlineData("2", null, "1", null, true)] // a lead's newer request
    [InlineData("1", null, "2", null, false)]
    [InlineData("2", null, "1", "late-lorry", true)]
    [InlineData("2", "late-lorry", "1", "another", true)]
    [InlineData("2", "late-lorry", "1", null, false)] // a batch leaves a lead's request alone
    public void A_newer_request_supersedes_an_older_one_but_a_batch_never_a_leads(
        string id, string? batch, string olderId, string? olderBatch, bool supersedes)
    {
        var older = Queued with { Id = olderId, Batch = olderBatch };
        Assert.Equal(supersedes, (Queued with { Id = id, Batch = batch }).Supersedes(older));
    }
}
