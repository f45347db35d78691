using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Trials;

/// <summary>Changes are accepted while a search settles, and while every place for computing is taken.</summary>
[Collection(ServiceCollection.Name)]
public sealed class ConcurrentAcceptTests(RunningService service)
{
    private const string Changes = """{"changes": [{"kind": "launch", "launch": "2027-03-13T10:00"}], "plan": {"seconds": 1}}""";

    private NpgsqlDataSource Database => service.Host.Services.GetRequiredService<NpgsqlDataSource>();

    /// <summary>
    /// The test holds the candidate while the acceptance is about to cancel it, and changes it. The week is as it was read.
    /// </summary>
    [Fact]
    public async Task A_candidate_that_settles_at_the_same_time_does_not_make_the_week_stale()
    {
        var (chain, lead, plan) = await Searching();
        await using var connection = await Database.OpenConnectionAsync();
        await using var transaction = await connection.BeginTransactionAsync();
        await Execute(connection, chain, plan,
            "update setweek.mt_doc_candidateplan set mt_version = gen_random_uuid() where tenant_id = $1 and id = $2");
        var tag = (await ExpectStatus(200, lead.Get(HarbourStreet.Address))).ETag!;
        var accepting = lead.Post($"{HarbourStreet.Address}/changes", Changes, ("If-Match", tag));
        await UntilBlocked(connection, accepting);
        await transaction.CommitAsync();
        await ExpectStatus(202, accepting);

        var late = await lead.Post($"{HarbourStreet.Address}/changes",
            """{"changes": [{"kind": "launch", "launch": "2027-03-13T11:00"}]}""", ("If-Match", tag));
        Assert.Equal((412, "stale"), (late.Status, late.Code));
    }

    /// <summary>
    /// A search that settles deletes its row, then writes its candidate. The test holds the row as that does. A request that
    /// withdraws the search waits for the row and must not hold the candidate meanwhile.
    /// </summary>
    [Fact]
    public async Task A_request_is_withdrawn_in_the_order_in_which_it_settles()
    {
        var (chain, lead, plan) = await Searching();
        await using var connection = await Database.OpenConnectionAsync();
        await using var transaction = await connection.BeginTransactionAsync();
        await Execute(connection, chain, plan, "select from setweek.solve_requests where tenant_id = $1 and plan = $2 for update");
        var requested = lead.Post($"{HarbourStreet.Address}/plans", """{"seconds": 1}""");
        await UntilBlocked(connection, requested);
        await Execute(connection, chain, plan,
            "select from setweek.mt_doc_candidateplan where tenant_id = $1 and id = $2 for update nowait");
        await transaction.CommitAsync();
        await ExpectStatus(202, requested);
    }

    [Fact]
    public async Task An_acceptance_waits_for_its_turn_before_it_has_a_transaction()
    {
        var week = await new FirstRain(service.NewChain()).Open(opening: Opening.Replace("\"eta\": \"2027-03-08T12:00\"", "\"eta\": null"));
        var plan = (string?)(await week.Plan(state: "none"))["id"];
        var tag = await week.ETag();
        using var done = new ManualResetEventSlim();
        using var taken = new SemaphoreSlim(0);
        var admission = service.Host.Services.GetRequiredService<Admission>();
        for (var place = 0; place < service.Settings.AnswersAtOnce; place++)
        {
            _ = admission.Admit($"chain-{place}", _ =>
            {
                taken.Release();
                return done.Wait(TimeSpan.FromMinutes(1), CancellationToken.None);
            }, CancellationToken.None);
            await taken.WaitAsync();
        }
        Task<ApiResponse>[] waiting =
        [
            week.Lead.Post($"{Address}/changes", Changes, ("If-Match", tag), ("Idempotency-Key", "changes-1")),
            week.Lead.Post($"{Address}/plans/{plan}/repairs/1/accept", "{}", ("If-Match", tag), ("Idempotency-Key", "repair-1")),
        ];
        await Task.Delay(service.Settings.AnswerPatience / 2);
        await using (var idle = Database.CreateCommand("""
            select count(*) from pg_stat_activity where datname = current_database() and state = 'idle in transaction'
                and state_change < clock_timestamp() - interval '0.2 seconds'
            """))
            Assert.Equal(0L, await idle.ExecuteScalarAsync());
        foreach (var refused in await Task.WhenAll(waiting)) Assert.Equal((503, "busy"), (refused.Status, refused.Code));
        done.Set();
        await ExpectStatus(202, week.Lead.Post($"{Address}/plans/{plan}/repairs/1/accept", "{}", ("If-Match", tag),
            ("Idempotency-Key", "repair-1")));
    }

    /// <summary>The demo week of Harbour Street, which takes longer to solve than the test.</summary>
    private async Task<(Chain Chain, ApiClient Lead, string Plan)> Searching()
    {
        var chain = service.NewChain();
        await HarbourStreet.Open(chain.HeadOffice);
        var lead = chain.LeadOf();
        var location = (await ExpectStatus(202, lead.Post($"{HarbourStreet.Address}/plans", """{"seconds": 60, "workers": 1}"""))).Location!;
        for (var attempt = 0; attempt < 500; attempt++)
        {
            if ((string?)(await lead.Get(location)).Json["state"] == "solving")
                return (chain, lead, location[(location.LastIndexOf('/') + 1)..]);
            await Task.Delay(20);
        }
        throw new TimeoutException("The search has not begun.");
    }

    private static async Task Execute(NpgsqlConnection connection, Chain chain, string plan, string sql)
    {
        await using var command = new NpgsqlCommand(sql, connection);
        command.Parameters.AddWithValue(chain.Tenant);
        command.Parameters.AddWithValue(plan);
        await command.ExecuteNonQueryAsync();
    }

    /// <summary>Waits until another transaction waits for this one. An answer before that is a failure.</summary>
    private async Task UntilBlocked(NpgsqlConnection connection, Task<ApiResponse> request)
    {
        for (var attempt = 0; attempt < 3000; attempt++)
        {
            if (request.IsCompleted) Assert.Fail($"It was answered, and waited for nothing: {await request}");
            await using var read = Database.CreateCommand(
                "select exists (select from pg_stat_activity where $1 = any(pg_blocking_pids(pid)) and query not like '%lease%')");
            read.Parameters.AddWithValue(connection.ProcessID);
            if (await read.ExecuteScalarAsync() is true) return;
            await Task.Delay(20);
        }
        throw new TimeoutException("Nothing waits for the transaction.");
    }
}
