using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Solving;

namespace SetWeek.Service.Tests.Solving;

/// <summary>What a node is told of its searches while they run: go on, stop with the best plan, or yield. And the best plan so far.</summary>
public sealed class SearchSignalTests : IAsyncLifetime
{
    private static readonly CancellationToken Never = CancellationToken.None;
    private ClaimTable table = null!;

    public async Task InitializeAsync() => table = await ClaimTable.Create();

    public Task DisposeAsync() => table.DisposeAsync().AsTask();

    /// <summary>The signal is for the attempt whose best plan the lead has seen. That plan is lost with its node.</summary>
    [Fact]
    public async Task A_search_ends_with_its_best_plan_if_it_has_one_and_the_next_attempt_goes_on()
    {
        await table.Ask("quillmere", "plan");
        Assert.False(await table.EndWithBest("plan"));
        var claim = await ClaimTable.Claim(table.First);
        Assert.False(await table.EndWithBest("plan")); // nothing is found yet
        await table.First.WriteBest(claim, new BestSoFar(100, [new GoalValue(GoalId.Cost, 4584, 4400)], []));
        Assert.Equal(SearchSignal.Continue, (await table.First.Held([claim], renew: false, Never))[claim]);
        Assert.True(await table.EndWithBest("plan"));
        foreach (var renew in (bool[])[false, true])
            Assert.Equal(SearchSignal.Stop, (await table.First.Held([claim], renew, Never))[claim]);

        await table.Expire();
        var next = await ClaimTable.Claim(table.Second);
        Assert.Equal(SearchSignal.Continue, (await table.Second.Held([next], renew: false, Never))[next]);
        await table.Second.Return(next, yielded: false);
        Assert.False(await table.EndWithBest("plan")); // no node searches
    }

    [Fact]
    public async Task A_batch_yields_to_a_waiting_lead_keeps_its_attempt_and_is_next_again()
    {
        await table.Ask("quillmere", "batch-1", SolvePriority.Batch);
        await table.Ask("quillmere", "batch-2", SolvePriority.Batch);
        ClaimedSolve[] batch = [await ClaimTable.Claim(table.First), await ClaimTable.Claim(table.First)];
        await table.First.LetOneYield(Never);
        Assert.DoesNotContain(SearchSignal.Yield, (await table.First.Held(batch, renew: false, Never)).Values);

        await table.Ask("quillmere", "lead", SolvePriority.Lead);
        await Task.Delay(400); // long enough for a free node to claim it
        await table.First.LetOneYield(Never);
        await table.First.LetOneYield(Never); // one lead: one search yields
        var held = await table.First.Held(batch, renew: false, Never);
        Assert.Equal((SearchSignal.Continue, SearchSignal.Yield), (held[batch[0]], held[batch[1]]));

        await table.First.Return(batch[1], yielded: true);
        Assert.Equal("lead", (await ClaimTable.Claim(table.First)).Plan);
        var again = await ClaimTable.Claim(table.First);
        Assert.Equal(("batch-2", 1), (again.Plan, again.Attempt));
    }

    [Fact]
    public async Task A_batch_yields_three_times_and_is_then_finished()
    {
        await table.Ask("quillmere", "batch", SolvePriority.Batch);
        for (var time = 1; time <= 4; time++)
        {
            var batch = await ClaimTable.Claim(table.First);
            await table.Ask("quillmere", $"lead-{time}", SolvePriority.Lead);
            await Task.Delay(400);
            await table.First.LetOneYield(Never);
            Assert.Equal(time <= 3 ? SearchSignal.Yield : SearchSignal.Continue,
                Assert.Single(await table.First.Held([batch], renew: false, Never)).Value);
            await table.First.Return(batch, yielded: true);
            await table.EndAll($"lead-{time}");
        }
    }

    [Fact]
    public async Task The_best_plan_so_far_is_read_by_every_node()
    {
        await table.Ask("quillmere", "plan");
        var claim = await ClaimTable.Claim(table.First);
        await using var session = table.Store.QuerySession("quillmere");
        Assert.Null(await session.BestSoFarOf("plan", Never));
        await table.First.WriteBest(claim, new BestSoFar(1200, [new GoalValue(GoalId.Cost, 4400, 4000)], []));
        var best = await session.BestSoFarOf("plan", Never);
        Assert.Equal((1200L, 4400L), (best!.AfterMilliseconds, Assert.Single(best.Goals).Value));
        await using var others = table.Store.QuerySession("another-chain");
        Assert.Null(await others.BestSoFarOf("plan", Never));
    }
}
