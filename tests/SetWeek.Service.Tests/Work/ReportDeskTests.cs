using System.Diagnostics;
using JasperFx.Events;
using Marten;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Npgsql;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Idempotency;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Solving;
using SetWeek.Service.Storage;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Work;

[Collection(ServiceCollection.Name)]
public sealed class ReportDeskTests(RunningService service)
{
    private const int Reports = 64;

    [Fact]
    public async Task Concurrent_reports_on_one_week_are_all_stored_once_each_with_its_own_metadata()
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        var answers = await Task.WhenAll(Enumerable.Range(1, Reports).Select(n => chain.As($"p{n}", Role.Crew, "harbour-street")
            .Post($"{Address}/kits/forms/arrived", Arrival($"phone-{n}.1", n % 60), (IdempotencyKey.Header, $"k-{n}"))));
        Assert.All(answers, answer => Assert.True(answer.Status == 200, answer.Text));
        Assert.Distinct(answers.Select(answer => answer.ETag));

        var events = (await Events(chain, Id))[1..];
        Assert.Equal(Enumerable.Range(2, Reports), events.Select(e => (int)e.Version));
        Assert.Equal(Enumerable.Range(1, Reports).Order(),
            events.Select(e => int.Parse(((KitArrived)e.Data).Report[6..^2], null)).Order());
        foreach (var e in events)
        {
            var n = ((KitArrived)e.Data).Report[6..^2];
            Assert.Equal(($"p{n}", $"takeKitIn k-{n}"), (e.UserName, e.CausationId));
            Assert.Equal(((KitArrived)e.Data).At.ToInstant(), EventMetadata.HappenedAt(e));
        }
        Assert.Distinct(events.Select(e => e.CorrelationId));
    }

    [Fact]
    public async Task Concurrent_reports_on_eight_weeks_are_all_stored_once_and_in_the_order_of_each_phone()
    {
        var chain = service.NewChain();
        var lead = await OpenWeeks(chain, 8);
        await Task.WhenAll(Enumerable.Range(0, 16).Select(async phone =>
        {
            for (var n = 10; n < 18; n++)
                await ExpectStatus(200, lead.Post($"/weeks/w{(phone + n) % 8}/kits/forms/arrived", Arrival($"phone-{phone}.{n}", n)));
        }));
        var seen = new List<string>();
        for (var week = 0; week < 8; week++)
        {
            var stored = (await Events(chain, $"w{week}"))[1..];
            Assert.Equal(Enumerable.Range(2, stored.Count), stored.Select(e => (int)e.Version));
            var ids = stored.Select(e => ((KitArrived)e.Data).Report).ToList();
            foreach (var phone in ids.GroupBy(id => id.Split('.')[0])) Assert.Equal(phone.Order(StringComparer.Ordinal), phone);
            seen.AddRange(ids);
        }
        Assert.Equal(128, seen.Count);
        Assert.Distinct(seen);
    }

    [Fact]
    public async Task A_group_with_refused_reports_commits_the_others()
    {
        var chain = service.NewChain();
        var lead = await OpenWeeks(chain, 2);
        var (first, group) = (lead.Post("/weeks/w1/kits/forms/arrived", Arrival("first", 1)), (Task<ApiResponse[]>?)null);
        await first;
        await using (await Held(chain, "w1"))
        {
            var waiting = lead.Post("/weeks/w1/kits/forms/arrived", Arrival("waiting", 2));
            await Task.Delay(300); // until its group waits for the held week
            group = Task.WhenAll(Enumerable.Range(0, 12).Select(n => lead.Post($"/weeks/w{n % 2}/kits/forms/arrived",
                n % 3 == 0 ? Arrival($"bad-{n}", 3).Replace("}", """, "lines": [{"item": "none", "received": 1}]}""")
                    : Arrival($"good-{n}", 3))));
            await Task.Delay(300);
            Assert.False(group.IsCompleted);
        }
        var answers = await group;
        for (var n = 0; n < answers.Length; n++) Assert.Equal(n % 3 == 0 ? 409 : 200, answers[n].Status);
        var stored = (await Events(chain, "w0")).Concat(await Events(chain, "w1")).Select(e => e.Data).OfType<KitArrived>();
        Assert.Equal(8, stored.Count(arrived => arrived.Report.StartsWith("good", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task A_report_whose_decision_fails_spoils_no_other()
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        var desk = new ReportDesk(Store, 100);
        var held = await Held(chain, Id);
        var first = desk.Take(Submission(chain, "r0"));
        await Task.Delay(300);
        var others = Enumerable.Range(1, 6).Select(n => desk.Take(n == 3
            ? Submission(chain, "r3", _ => throw new InvalidOperationException("A fault of ours."))
            : Submission(chain, $"r{n}"))).ToList();
        await held.DisposeAsync();
        foreach (var (n, answer) in others.Index())
            if (n + 1 == 3) await Assert.ThrowsAsync<InvalidOperationException>(() => answer);
            else Assert.Equal(204, (await answer).Status);
        Assert.Equal(204, (await first).Status);
        Assert.Equal(["r0", "r1", "r2", "r4", "r5", "r6"],
            (await Events(chain, Id)).Select(e => e.Data).OfType<KitArrived>().Select(e => e.Report));
    }

    [Fact]
    public async Task A_full_lane_answers_503_with_the_time_to_wait()
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        var desk = new ReportDesk(Store, 3);
        Task<Service.Http.Answers.Answer>[] taken;
        await using (await Held(chain, Id))
        {
            var first = desk.Take(Submission(chain, "r0")); // is being committed, and waits no longer
            await Task.Delay(300);
            taken = [first, .. Enumerable.Range(1, 3).Select(n => desk.Take(Submission(chain, $"r{n}")))];
            var refused = await desk.Take(Submission(chain, "r4"));
            Assert.Equal((503, TimeSpan.FromSeconds(1)), (refused.Status, refused.RetryAfter));
            var other = service.NewChain();
            await new FirstRain(other).Open();
            Assert.Equal(204, (await desk.Take(Submission(other, "r1"))).Status); // the lane of another chain
        }
        Assert.All(await Task.WhenAll(taken), answer => Assert.Equal(204, answer.Status));
        Assert.Equal(204, (await desk.Take(Submission(chain, "r4"))).Status);
    }

    [Fact]
    public async Task A_refusal_is_said_only_after_a_read()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var candidate = await Load(chain, (string)(await week.Plan())["id"]!);
        var report = """{"id": "r1", "task": "wall.paint", "night": "monday", "at": "2027-03-08T20:10:00Z"}""";
        Assert.Equal("nothing-published", (await week.Lead.Post($"{Address}/work/started", report)).Code);

        await AppendElsewhere(chain, 2, new PlanPublished(candidate.Id, candidate.InputHash, candidate.Plan!));
        await ExpectStatus(204, week.Lead.Post($"{Address}/work/started", report));
    }

    [Fact]
    public async Task A_report_decided_on_an_older_state_is_decided_again()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await AppendElsewhere(chain, 2, new KitDelayed("forms", new LocalDateTime(2027, 3, 8, 13, 0)));
        Assert.Equal("\"3\"", (await week.Lead.Post($"{Address}/kits/forms/arrived", Arrival("r1", 5))).ETag);
        Assert.Equal(["WeekOpened", "KitDelayed", "KitArrived"], (await Events(chain, Id)).Select(e => e.Data.GetType().Name));
    }

    [Fact]
    public async Task A_repeated_key_gets_the_first_answer_also_in_one_group()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var key = (IdempotencyKey.Header, "k1");
        var answers = await Task.WhenAll(Enumerable.Range(0, 12).Select(_ =>
            week.Lead.Post($"{Address}/kits/forms/arrived", Arrival("r1", 5), key)));
        Assert.All(answers, answer => Assert.Equal(answers[0], answer));
        Assert.Equal(200, answers[0].Status);
        Assert.Equal(2, (await Events(chain, Id)).Count);
        var other = await week.Lead.Post($"{Address}/kits/forms/arrived", Arrival("r2", 5), key);
        Assert.Equal((422, "key-reused"), (other.Status, other.Code));
    }

    /// <summary>The first requests with the keys have not ended: their rows are there and not committed.</summary>
    [Fact]
    public async Task A_key_whose_first_request_has_not_ended_holds_up_no_other_report()
    {
        var chain = service.NewChain();
        var lead = await OpenWeeks(chain, 4);
        Task<ApiResponse> alone, inGroup;
        await using (await HeldKeys(chain, "w0", "w1"))
        {
            var begun = Stopwatch.GetTimestamp();
            alone = lead.Post("/weeks/w0/kits/forms/arrived", Arrival("r0", 1), (IdempotencyKey.Header, "held"));
            await Task.Delay(200); // the others form the next group
            inGroup = lead.Post("/weeks/w1/kits/forms/arrived", Arrival("r1", 1), (IdempotencyKey.Header, "held"));
            var others = await Task.WhenAll(Enumerable.Range(2, 8).Select(n =>
                lead.Post($"/weeks/w{2 + n % 2}/kits/forms/arrived", Arrival($"r{n}", 1))));
            Assert.All(others, answer => Assert.Equal(200, answer.Status));
            Assert.InRange(Stopwatch.GetElapsedTime(begun).TotalSeconds, 0, 12);
            Assert.False(alone.IsCompleted);
            Assert.False(inGroup.IsCompleted);
        }
        Assert.Equal((200, 200), ((await alone).Status, (await inGroup).Status));
    }

    [Fact]
    public async Task A_week_that_another_transaction_holds_is_waited_for_only_so_long()
    {
        var chain = service.NewChain();
        await OpenWeeks(chain, 1);
        await using var held = await Held(chain, "w0");
        await using var session = Store.LightweightSession(chain.Tenant);
        await session.BeginTransactionAsync(CancellationToken.None);
        var error = await Assert.ThrowsAnyAsync<Exception>(() =>
            Streams.LockWeeks(session, ["w0"], TimeSpan.FromMilliseconds(200)).WaitAsync(TimeSpan.FromSeconds(10)));
        Assert.True(DatabaseErrors.IsLockTimeout(error), $"{error}");
    }

    [Fact]
    public async Task A_refused_report_leaves_its_key_free()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        var key = (IdempotencyKey.Header, "k1");
        var unknown = Arrival("r1", 5).Replace("}", """, "lines": [{"item": "none", "received": 1}]}""");
        Assert.Equal(409, (await week.Lead.Post($"{Address}/kits/forms/arrived", unknown, key)).Status);
        Assert.Equal(200, (await week.Lead.Post($"{Address}/kits/forms/arrived", Arrival("r1", 5), key)).Status);
    }

    [Fact]
    public async Task A_note_is_stored_with_the_event_of_its_report()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await week.PlanAndPublish();
        await Task.WhenAll(Enumerable.Range(1, 8).Select(n => ExpectStatus(204, week.Lead.Post($"{Address}/work/blocked",
            $$"""{"id": "r{{n}}", "task": "wall.paint", "at": "2027-03-08T20:0{{n}}:00Z", "reason": "no-access", "note": "Note {{n}}."}"""))));
        var stored = (await Events(chain, Id)).ToDictionary(e => e.Version, e => (e.Data as WorkBlocked)?.Report);
        foreach (var note in (await week.Week())["notes"]!.AsArray())
            Assert.Equal($"Note {stored[(long)note!["version"]!]![1..]}.", (string?)note["text"]);
        Assert.Equal(8, (await week.Week())["notes"]!.AsArray().Count);
    }

    private static string Arrival(string id, int minute) => $$"""{"id": "{{id}}", "at": "2027-03-08T11:{{minute:00}}:00Z"}""";

    private IDocumentStore Store => service.Host.Services.GetRequiredService<IDocumentStore>();

    private static async Task<ApiClient> OpenWeeks(Chain chain, int count)
    {
        await ExpectStatus(201, chain.HeadOffice.Post("/directions", Direction));
        await ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store()));
        var lead = chain.LeadOf("harbour-street");
        for (var week = 0; week < count; week++)
            await ExpectStatus(201, lead.Post("/weeks", Opening.Replace("first-rain.harbour-street", $"w{week}")));
        return lead;
    }

    private async Task<List<IEvent>> Events(Chain chain, string week)
    {
        await using var session = Store.QuerySession(chain.Tenant);
        return [.. await session.Events.FetchStreamAsync(Streams.WeekKey(week))];
    }

    private async Task<Domain.Plans.CandidatePlan> Load(Chain chain, string plan)
    {
        await using var session = Store.QuerySession(chain.Tenant);
        return (await session.LoadAsync<Domain.Plans.CandidatePlan>(plan))!;
    }

    /// <summary>Appends as another node does: this node learns of it only by reading.</summary>
    private async Task AppendElsewhere(Chain chain, long version, object e)
    {
        await using var session = Store.LightweightSession(chain.Tenant);
        session.Events.Append(Streams.WeekKey(Id), version, e);
        await session.SaveChangesAsync();
    }

    /// <summary>Locks the stream of a week until disposal, so that no append to it can end.</summary>
    private async Task<NpgsqlConnection> Held(Chain chain, string week)
    {
        var connection = await service.Host.Services.GetRequiredService<NpgsqlDataSource>().OpenConnectionAsync();
        await using var hold = new NpgsqlCommand(
            "begin; select 1 from setweek.mt_streams where tenant_id = @tenant and id = @id for update", connection);
        hold.Parameters.AddWithValue("tenant", chain.Tenant);
        hold.Parameters.AddWithValue("id", Streams.WeekKey(week));
        await hold.ExecuteNonQueryAsync();
        return connection;
    }

    /// <summary>Claims the key "held" for an arrival in each of the weeks, as a request that has not ended does.</summary>
    private async Task<NpgsqlConnection> HeldKeys(Chain chain, params string[] weeks)
    {
        var connection = await service.Host.Services.GetRequiredService<NpgsqlDataSource>().OpenConnectionAsync();
        await using var hold = new NpgsqlCommand("""
            begin;
            insert into setweek.remembered (tenant_id, person, route, key, at, body_hash)
            select @tenant, 'lena', 'POST /weeks/' || week || '/kits/forms/arrived', 'held', now(), '' from unnest(@weeks) as week
            """, connection);
        hold.Parameters.AddWithValue("tenant", chain.Tenant);
        hold.Parameters.AddWithValue("weeks", weeks);
        await hold.ExecuteNonQueryAsync();
        return connection;
    }

    private Submission Submission(
        Chain chain, string id, Func<Domain.Weeks.StoreWeek, IReadOnlyList<IWeekEvent>>? decide = null)
    {
        var at = Instant.FromUtc(2027, 3, 8, 11, 0);
        var services = service.Host.Services;
        var request = new Request(new Caller(chain.Tenant, "lena", Role.Lead, [Caller.AnyStore]), at, at,
            new Dictionary<string, string> { ["id"] = Id }, new QueryCollection(), [])
        {
            Admission = services.GetRequiredService<Admission>(),
            PlanIds = services.GetRequiredService<PlanIds>(),
            Outbound = services.GetRequiredService<OutboundRules>(),
        };
        decide ??= _ => [new KitArrived(id, "forms", at.WithOffset(Offset.Zero))];
        return new Submission(request, "test", id, null, ReportBatch.Of(new FloorReport(at, week => decide(week).ToList())));
    }
}
