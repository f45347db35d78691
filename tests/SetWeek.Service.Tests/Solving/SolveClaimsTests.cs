using SetWeek.Service.Solving;

namespace SetWeek.Service.Tests.Solving;

/// <summary>Which node gets which request for a plan, and how long it keeps it.</summary>
public sealed class SolveClaimsTests : IAsyncLifetime
{
    private static readonly CancellationToken Never = CancellationToken.None;
    private ClaimTable table = null!;

    public async Task InitializeAsync() => table = await ClaimTable.Create();

    public Task DisposeAsync() => table.DisposeAsync().AsTask();

    [Fact]
    public async Task A_leads_request_is_claimed_before_the_older_ones_of_a_batch()
    {
        await table.Ask("quillmere", "batch-1", SolvePriority.Batch);
        await table.Ask("quillmere", "batch-2", SolvePriority.Batch);
        await table.Ask("quillmere", "lead", SolvePriority.Lead);
        Assert.Equal(["lead", "batch-1", "batch-2"], await table.ClaimAll());
    }

    [Fact]
    public async Task Chains_take_turns_however_many_requests_one_has()
    {
        foreach (var number in Enumerable.Range(1, 4)) await table.Ask("busy", $"busy-{number}");
        foreach (var number in Enumerable.Range(1, 2)) await table.Ask("quiet", $"quiet-{number}");
        Assert.Equal(["busy-1", "quiet-1", "busy-2", "quiet-2", "busy-3", "busy-4"], await table.ClaimAll());
    }

    [Fact]
    public async Task The_chain_with_the_fewest_searches_under_way_is_next()
    {
        foreach (var number in Enumerable.Range(1, 3)) await table.Ask("busy", $"busy-{number}");
        await ClaimTable.Claim(table.First);
        await ClaimTable.Claim(table.First);
        await table.Ask("quiet", "quiet-1");
        await table.EndAll("busy-1"); // busy has one under way and was served last; quiet was never served
        Assert.Equal("quiet-1", (await ClaimTable.Claim(table.Second)).Plan);

        await table.Ask("quiet", "quiet-2");
        await table.EndAll("busy-2"); // busy has none under way, quiet has one
        Assert.Equal("busy-3", (await ClaimTable.Claim(table.Second)).Plan);
    }

    /// <summary>Twenty nodes at once: each request is claimed once, and the counts of the chains differ by one at most.</summary>
    [Fact]
    public async Task Nodes_that_claim_at_once_get_different_requests_in_fair_shares()
    {
        foreach (var number in Enumerable.Range(1, 20)) await table.Ask("busy", $"busy-{number}");
        foreach (var number in Enumerable.Range(1, 10)) await table.Ask("quiet", $"quiet-{number}");
        var claimed = await Task.WhenAll(Enumerable.Range(0, 20)
            .Select(node => new SolveClaims(table.Source, $"node-{node}").Claim([], Never)));
        Assert.Equal(20, claimed.Select(claim => claim!.Plan).Distinct().Count());
        Assert.Equal(10, claimed.Count(claim => claim!.Tenant == "quiet"));
    }

    /// <summary>No hoarding: a node holds what it claimed, and all else can be claimed by others.</summary>
    [Fact]
    public async Task A_node_holds_no_more_than_it_has_claimed()
    {
        foreach (var number in Enumerable.Range(1, 3)) await table.Ask("quillmere", $"plan-{number}");
        await ClaimTable.Claim(table.First);
        Assert.Equal("plan-2", (await ClaimTable.Claim(table.Second)).Plan);
        Assert.Equal("plan-3", (await ClaimTable.Claim(table.Second)).Plan);
        Assert.Null(await table.First.Claim([], Never));
    }

    [Fact]
    public async Task A_batchs_request_waits_for_a_leads_of_the_same_week()
    {
        await table.Ask("quillmere", "lead", SolvePriority.Lead, week: "mill-lane");
        await table.Ask("quillmere", "batch", SolvePriority.Batch, week: "mill-lane");
        await table.Ask("quillmere", "batch-2", SolvePriority.Batch, week: "harbour-street");
        Assert.Equal("lead", (await ClaimTable.Claim(table.First)).Plan);
        Assert.Equal("batch-2", (await ClaimTable.Claim(table.First)).Plan);
        Assert.Null(await table.First.Claim([], Never));
        await table.EndAll("lead");
        Assert.Equal("batch", (await ClaimTable.Claim(table.First)).Plan);
    }

    [Fact]
    public async Task A_claim_that_is_not_renewed_is_taken_over_and_the_first_holder_cannot_settle()
    {
        await table.Ask("quillmere", "plan");
        var lost = await ClaimTable.Claim(table.First);
        Assert.Null(await table.Second.Claim([], Never));
        await table.Expire();

        var taken = await ClaimTable.Claim(table.Second);
        Assert.Equal(("plan", 2), (taken.Plan, taken.Attempt));
        Assert.Empty(await table.First.Held([lost], renew: true, Never));
        Assert.False(await table.End(lost, table.First.Node));
        Assert.True(await table.End(taken, table.Second.Node));
        Assert.Null(await table.Second.Claim([], Never));
    }

    /// <summary>After a stall longer than the lease. Another attempt would count against the three that a plan has.</summary>
    [Fact]
    public async Task A_node_does_not_claim_again_what_it_is_running()
    {
        await table.Ask("quillmere", "plan");
        var claim = await ClaimTable.Claim(table.First);
        await table.Expire();
        Assert.Null(await table.First.Claim([claim], Never));
        Assert.Equal(claim, Assert.Single(await table.First.Held([claim], renew: true, Never)).Key);
        await table.Expire();
        Assert.Equal(2, (await table.Second.Claim([], Never))!.Attempt);
    }

    [Fact]
    public async Task Of_two_attempts_of_one_node_at_one_plan_only_the_later_is_held()
    {
        await table.Ask("quillmere", "plan");
        var earlier = await ClaimTable.Claim(table.First);
        await table.Expire();
        var later = await ClaimTable.Claim(table.First);
        foreach (var renew in (bool[])[false, true])
            Assert.Equal(later, Assert.Single(await table.First.Held([earlier, later], renew, Never)).Key);
        Assert.False(await table.End(earlier, table.First.Node));
        Assert.True(await table.End(later, table.First.Node));
    }

    [Fact]
    public async Task A_renewed_claim_is_kept_and_a_withdrawn_one_is_not_held()
    {
        await table.Ask("quillmere", "plan");
        var claim = await ClaimTable.Claim(table.First);
        await table.Expire();
        Assert.Equal(claim, Assert.Single(await table.First.Held([claim], renew: true, Never)).Key);
        Assert.Null(await table.Second.Claim([], Never));
        await table.EndAll("plan");
        Assert.Empty(await table.First.Held([claim], renew: false, Never));
    }
}
