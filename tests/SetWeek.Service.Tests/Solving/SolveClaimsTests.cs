using System.Security.Cryptography;
using Marten;
using Npgsql;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Solving;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Tests.Solving;

/// <summary>The claim table in a database of its own, used by two nodes.</summary>
public sealed class SolveClaimsTests : IAsyncLifetime
{
    private static readonly CancellationToken Never = CancellationToken.None;
    private readonly string database = $"setweek_{RandomNumberGenerator.GetHexString(10, lowercase: true)}";
    private NpgsqlDataSource source = null!;
    private DocumentStore store = null!;
    private SolveClaims first = null!, second = null!;

    public async Task InitializeAsync()
    {
        await ExecuteOnServer($"create database {database}");
        source = NpgsqlDataSource.Create(
            new NpgsqlConnectionStringBuilder(RunningService.Postgres) { Database = database }.ConnectionString);
        store = DocumentStore.For(options => MartenConfiguration.Configure(options, source));
        await store.Storage.ApplyAllConfiguredChangesToDatabaseAsync();
        (first, second) = (new SolveClaims(source, "first"), new SolveClaims(source, "second"));
    }

    public async Task DisposeAsync()
    {
        await store.DisposeAsync();
        await source.DisposeAsync();
        await ExecuteOnServer($"drop database if exists {database} with (force)");
    }

    [Fact]
    public async Task A_leads_request_is_claimed_before_the_older_ones_of_a_batch()
    {
        await Ask("quillmere", "batch-1", SolvePriority.Batch);
        await Ask("quillmere", "batch-2", SolvePriority.Batch);
        await Ask("quillmere", "lead", SolvePriority.Lead);
        Assert.Equal(["lead", "batch-1", "batch-2"], await ClaimAll());
    }

    [Fact]
    public async Task Chains_take_turns_however_many_requests_one_has()
    {
        foreach (var number in Enumerable.Range(1, 4)) await Ask("busy", $"busy-{number}");
        foreach (var number in Enumerable.Range(1, 2)) await Ask("quiet", $"quiet-{number}");
        Assert.Equal(["busy-1", "quiet-1", "busy-2", "quiet-2", "busy-3", "busy-4"], await ClaimAll());
    }

    [Fact]
    public async Task The_chain_with_the_fewest_searches_under_way_is_next()
    {
        foreach (var number in Enumerable.Range(1, 3)) await Ask("busy", $"busy-{number}");
        await Claim(first);
        await Claim(first);
        await Ask("quiet", "quiet-1");
        await EndAll("busy-1"); // busy has one under way and was served last; quiet was never served
        Assert.Equal("quiet-1", (await Claim(second)).Plan);

        await Ask("quiet", "quiet-2");
        await EndAll("busy-2"); // busy has none under way, quiet has one
        Assert.Equal("busy-3", (await Claim(second)).Plan);
    }

    /// <summary>Twenty nodes at once: each request is claimed once, and the counts of the chains differ by one at most.</summary>
    [Fact]
    public async Task Nodes_that_claim_at_once_get_different_requests_in_fair_shares()
    {
        foreach (var number in Enumerable.Range(1, 20)) await Ask("busy", $"busy-{number}");
        foreach (var number in Enumerable.Range(1, 10)) await Ask("quiet", $"quiet-{number}");
        var claimed = await Task.WhenAll(Enumerable.Range(0, 20)
            .Select(node => new SolveClaims(source, $"node-{node}").Claim([], Never)));
        Assert.Equal(20, claimed.Select(claim => claim!.Plan).Distinct().Count());
        Assert.Equal(10, claimed.Count(claim => claim!.Tenant == "quiet"));
    }

    /// <summary>No hoarding: a node holds what it claimed, and all else can be claimed by others.</summary>
    [Fact]
    public async Task A_node_holds_no_more_than_it_has_claimed()
    {
        foreach (var number in Enumerable.Range(1, 3)) await Ask("quillmere", $"plan-{number}");
        await Claim(first);
        Assert.Equal("plan-2", (await Claim(second)).Plan);
        Assert.Equal("plan-3", (await Claim(second)).Plan);
        Assert.Null(await first.Claim([], Never));
    }

    [Fact]
    public async Task A_batchs_request_waits_for_a_leads_of_the_same_week()
    {
        await Ask("quillmere", "lead", SolvePriority.Lead, week: "mill-lane");
        await Ask("quillmere", "batch", SolvePriority.Batch, week: "mill-lane");
        await Ask("quillmere", "batch-2", SolvePriority.Batch, week: "harbour-street");
        Assert.Equal("lead", (await Claim(first)).Plan);
        Assert.Equal("batch-2", (await Claim(first)).Plan);
        Assert.Null(await first.Claim([], Never));
        await EndAll("lead");
        Assert.Equal("batch", (await Claim(first)).Plan);
    }

    [Fact]
    public async Task A_claim_that_is_not_renewed_is_taken_over_and_the_first_holder_cannot_settle()
    {
        await Ask("quillmere", "plan");
        var lost = await Claim(first);
        Assert.Null(await second.Claim([], Never));
        await Expire();

        var taken = await Claim(second);
        Assert.Equal(("plan", 2), (taken.Plan, taken.Attempt));
        Assert.Empty(await first.Held([lost], renew: true, Never));
        Assert.False(await End(lost, first.Node));
        Assert.True(await End(taken, second.Node));
        Assert.Null(await second.Claim([], Never));
    }

    /// <summary>After a stall longer than the lease. Another attempt would count against the three that a plan has.</summary>
    [Fact]
    public async Task A_node_does_not_claim_again_what_it_is_running()
    {
        await Ask("quillmere", "plan");
        var claim = await Claim(first);
        await Expire();
        Assert.Null(await first.Claim([claim], Never));
        Assert.Equal(claim, Assert.Single(await first.Held([claim], renew: true, Never)).Key);
        await Expire();
        Assert.Equal(2, (await second.Claim([], Never))!.Attempt);
    }

    [Fact]
    public async Task Of_two_attempts_of_one_node_at_one_plan_only_the_later_is_held()
    {
        await Ask("quillmere", "plan");
        var earlier = await Claim(first);
        await Expire();
        var later = await Claim(first);
        foreach (var renew in (bool[])[false, true])
            Assert.Equal(later, Assert.Single(await first.Held([earlier, later], renew, Never)).Key);
        Assert.False(await End(earlier, first.Node));
        Assert.True(await End(later, first.Node));
    }

    [Fact]
    public async Task A_renewed_claim_is_kept_and_a_withdrawn_one_is_not_held()
    {
        await Ask("quillmere", "plan");
        var claim = await Claim(first);
        await Expire();
        Assert.Equal(claim, Assert.Single(await first.Held([claim], renew: true, Never)).Key);
        Assert.Null(await second.Claim([], Never));
        await EndAll("plan");
        Assert.Empty(await first.Held([claim], renew: false, Never));
    }

    /// <summary>The signal is for the attempt whose best plan the lead has seen. That plan is lost with its node.</summary>
    [Fact]
    public async Task A_search_ends_with_its_best_plan_if_it_has_one_and_the_next_attempt_goes_on()
    {
        await Ask("quillmere", "plan");
        Assert.False(await EndWithBest("plan"));
        var claim = await Claim(first);
        Assert.False(await EndWithBest("plan")); // nothing is found yet
        await first.WriteBest(claim, new BestSoFar(100, [new GoalValue(GoalId.Cost, 4584, 4400)], []));
        Assert.Equal(SearchSignal.Continue, (await first.Held([claim], renew: false, Never))[claim]);
        Assert.True(await EndWithBest("plan"));
        foreach (var renew in (bool[])[false, true])
            Assert.Equal(SearchSignal.Stop, (await first.Held([claim], renew, Never))[claim]);

        await Expire();
        var next = await Claim(second);
        Assert.Equal(SearchSignal.Continue, (await second.Held([next], renew: false, Never))[next]);
        await second.Return(next, yielded: false);
        Assert.False(await EndWithBest("plan")); // no node searches
    }

    [Fact]
    public async Task A_batch_yields_to_a_waiting_lead_keeps_its_attempt_and_is_next_again()
    {
        await Ask("quillmere", "batch-1", SolvePriority.Batch);
        await Ask("quillmere", "batch-2", SolvePriority.Batch);
        ClaimedSolve[] batch = [await Claim(first), await Claim(first)];
        await first.LetOneYield(Never);
        Assert.DoesNotContain(SearchSignal.Yield, (await first.Held(batch, renew: false, Never)).Values);

        await Ask("quillmere", "lead", SolvePriority.Lead);
        await Task.Delay(400); // long enough for a free node to claim it
        await first.LetOneYield(Never);
        await first.LetOneYield(Never); // one lead: one search yields
        var held = await first.Held(batch, renew: false, Never);
        Assert.Equal((SearchSignal.Continue, SearchSignal.Yield), (held[batch[0]], held[batch[1]]));

        await first.Return(batch[1], yielded: true);
        Assert.Equal("lead", (await Claim(first)).Plan);
        var again = await Claim(first);
        Assert.Equal(("batch-2", 1), (again.Plan, again.Attempt));
    }

    [Fact]
    public async Task A_batch_yields_three_times_and_is_then_finished()
    {
        await Ask("quillmere", "batch", SolvePriority.Batch);
        for (var time = 1; time <= 4; time++)
        {
            var batch = await Claim(first);
            await Ask("quillmere", $"lead-{time}", SolvePriority.Lead);
            await Task.Delay(400);
            await first.LetOneYield(Never);
            Assert.Equal(time <= 3 ? SearchSignal.Yield : SearchSignal.Continue,
                Assert.Single(await first.Held([batch], renew: false, Never)).Value);
            await first.Return(batch, yielded: true);
            await EndAll($"lead-{time}");
        }
    }

    [Fact]
    public async Task The_best_plan_so_far_is_read_by_every_node()
    {
        await Ask("quillmere", "plan");
        var claim = await Claim(first);
        await using var session = store.QuerySession("quillmere");
        Assert.Null(await session.BestSoFarOf("plan", Never));
        await first.WriteBest(claim, new BestSoFar(1200, [new GoalValue(GoalId.Cost, 4400, 4000)], []));
        var best = await session.BestSoFarOf("plan", Never);
        Assert.Equal((1200L, 4400L), (best!.AfterMilliseconds, Assert.Single(best.Goals).Value));
        await using var others = store.QuerySession("another-chain");
        Assert.Null(await others.BestSoFarOf("plan", Never));
    }

    private async Task Ask(
        string tenant, string plan, SolvePriority priority = SolvePriority.Lead, string? week = null)
    {
        await using var session = store.LightweightSession(tenant);
        session.Ask(week ?? $"week-of-{plan}", plan, priority);
        await session.SaveChangesAsync();
    }

    private static async Task<ClaimedSolve> Claim(SolveClaims node) =>
        await node.Claim([], Never) ?? throw new InvalidOperationException("Nothing could be claimed.");

    /// <summary>Claims and ends one request after another, as a node with one place does.</summary>
    private async Task<List<string>> ClaimAll()
    {
        var order = new List<string>();
        while (await first.Claim([], Never) is { } claim)
        {
            order.Add(claim.Plan);
            Assert.True(await End(claim, first.Node));
        }
        return order;
    }

    private async Task<bool> EndWithBest(string plan)
    {
        await using var session = store.LightweightSession("quillmere");
        var isAsked = await session.EndWithBest(plan, Never);
        await session.SaveChangesAsync();
        return isAsked;
    }

    private async Task<bool> End(ClaimedSolve claim, string node)
    {
        await using var session = store.LightweightSession(claim.Tenant);
        await session.BeginTransactionAsync(Never);
        var ended = await session.End(claim, node);
        await session.SaveChangesAsync();
        return ended;
    }

    private Task EndAll(string plan) => Execute($"delete from setweek.solve_requests where plan = '{plan}'");

    /// <summary>As if six seconds had passed without a heartbeat.</summary>
    private Task Expire() => Execute("update setweek.solve_requests set lease = lease - interval '6 seconds'");

    private async Task Execute(string sql)
    {
        await using var command = source.CreateCommand(sql);
        await command.ExecuteNonQueryAsync();
    }

    private static async Task ExecuteOnServer(string sql)
    {
        await using var server = NpgsqlDataSource.Create(RunningService.Postgres);
        await using var command = server.CreateCommand(sql);
        await command.ExecuteNonQueryAsync();
    }
}
