using System.Diagnostics;
using Microsoft.Extensions.DependencyInjection;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Http;

[Collection(ServiceCollection.Name)]
public sealed class AdmissionTests(RunningService service)
{
    private Admission Admission => service.Host.Services.GetRequiredService<Admission>();

    [Fact]
    public async Task A_request_beyond_the_limit_is_refused_after_the_waiting_time()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        var plan = $"{Address}/plans/{(await week.Plan())["id"]}";
        Func<Task<ApiResponse>>[] requests =
        [
            () => week.Lead.Get($"{plan}/why/wall.paint"),
            () => week.Lead.Get($"{plan}/risk?runs=64&helps=no"),
            () => week.Lead.Post($"{Address}/what-if",
                """{"changes": [{"kind": "absence", "person": "p3", "night": "monday"}], "seconds": 1}"""),
            () => week.Lead.Post($"{Address}/certainty", """{"effort": 1}"""),
        ];
        using (await AllPlacesTaken())
            foreach (var request in requests)
            {
                var started = Stopwatch.GetTimestamp();
                var refused = await request();
                var duration = Stopwatch.GetElapsedTime(started);
                Assert.Equal((503, "busy", "application/problem+json"), (refused.Status, refused.Code, refused.ContentType));
                Assert.Equal($"{service.Settings.AnswerPatience.TotalSeconds}", refused.RetryAfter);
                Assert.InRange(duration, service.Settings.AnswerPatience * 0.9, service.Settings.AnswerPatience * 5);
            }
        foreach (var request in requests) Assert.Equal(200, (await request()).Status);
    }

    /// <summary>Changes that do not fit the week are found only by applying them, which is work.</summary>
    [Fact]
    public async Task The_changes_of_a_what_if_are_applied_only_after_admission()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        const string unfit = """{"changes": [{"op": "remove", "path": "/no-such-field"}], "effort": 1}""";
        using (await AllPlacesTaken())
            Assert.Equal((503, "busy"), await week.Lead.Post($"{Address}/what-if", unfit) is var busy ? (busy.Status, busy.Code) : default);
        var refused = await week.Lead.Post($"{Address}/what-if", unfit);
        Assert.Equal((422, "/changes/0/path"), (refused.Status, (string?)refused.Json["errors"]![0]!["pointer"]));
    }

    /// <summary>
    /// A quick request is answered while many others wait, because waiting requests occupy no thread.
    /// </summary>
    [Fact]
    public async Task Waiting_requests_do_not_block_others()
    {
        var admission = new Admission(1, TimeSpan.FromMinutes(5));
        using var places = new Places();
        await places.Take(admission, "busy");
        var waiting = Enumerable.Range(0, 200).Select(_ => admission.Admit("another", _ => 1, CancellationToken.None)).ToArray();

        Assert.Equal(200, (await service.NewChain().HeadOffice.Get("/health/live")).Status);
        Assert.DoesNotContain(waiting, request => request.IsCompleted);

        places.Dispose();
        Assert.All(await Task.WhenAll(waiting), admitted => Assert.Equal(1, admitted.AsT0));
    }

    [Fact]
    public async Task A_cancelled_request_frees_its_place_at_once()
    {
        var admission = new Admission(1, TimeSpan.FromMinutes(1));
        using var cancellation = new CancellationTokenSource();
        using var begun = new SemaphoreSlim(0);
        var working = admission.Admit("quillmere", stop =>
        {
            begun.Release();
            return stop.WaitHandle.WaitOne(TimeSpan.FromMinutes(1));
        }, cancellation.Token);
        await begun.WaitAsync();
        var waiting = admission.Admit("quillmere", _ => true, cancellation.Token);

        await cancellation.CancelAsync();

        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => working);
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => waiting);
        Assert.True((await admission.Admit("quillmere", _ => true, CancellationToken.None)).AsT0);
    }

    [Fact]
    public async Task Chains_take_turns_whoever_asked_first()
    {
        var admission = new Admission(1, TimeSpan.FromMinutes(1));
        var order = new List<string>();
        using var places = new Places();
        await places.Take(admission, "busy");
        Task[] asked = [.. new[] { "busy", "busy", "busy", "quiet", "busy", "quiet" }
            .Select(tenant => admission.Admit(tenant, _ => { order.Add(tenant); return 1; }, CancellationToken.None))];

        places.Dispose();
        await Task.WhenAll(asked);

        Assert.Equal(["quiet", "busy", "quiet", "busy", "busy", "busy"], order);
    }

    [Fact]
    public async Task One_chain_never_takes_every_place()
    {
        var admission = new Admission(3, TimeSpan.FromMinutes(1));
        using var places = new Places();
        for (var place = 0; place < 2; place++) await places.Take(admission, "busy");
        var third = admission.Admit("busy", _ => 1, CancellationToken.None);

        Assert.Equal(2, (await admission.Admit("quiet", _ => 2, CancellationToken.None)).AsT0);
        Assert.False(third.IsCompleted);

        places.Dispose();
        Assert.Equal(1, (await third).AsT0);
    }

    /// <summary>
    /// End to end: the requests ask for 30 s of search, and closing their connections ends the search.
    /// </summary>
    [Fact]
    public async Task A_closed_connection_ends_the_search()
    {
        Chain[] chains = [.. Enumerable.Range(0, service.Settings.AnswersAtOnce).Select(_ => service.NewChain())];
        foreach (var chain in chains) await HarbourStreet.Open(chain.HeadOffice);
        using var caller = new CancellationTokenSource();
        var places = chains.Select(chain => chain.LeadOf().Post($"{HarbourStreet.Address}/what-if",
            """{"changes": [{"op": "test", "path": "/currency", "value": "GBP"}], "seconds": 30}""", caller.Token)).ToArray();
        await Task.Delay(1500); // until the search runs

        await caller.CancelAsync();

        foreach (var place in places)
            await Assert.ThrowsAnyAsync<OperationCanceledException>(async () => Assert.Fail((await place).Text));
        // Each question waits a second for a place. The searches would go on for 28 more.
        var questions = 1;
        while (!(await Admission.Admit(chains[0].Tenant, _ => true, CancellationToken.None)).IsT0) questions++;
        Assert.InRange(questions, 1, 10);
    }

    /// <summary>Takes all places until disposal.</summary>
    private async Task<Places> AllPlacesTaken()
    {
        var places = new Places();
        for (var place = 0; place < service.Settings.AnswersAtOnce; place++) await places.Take(Admission, $"chain-{place}");
        return places;
    }

    private sealed class Places : IDisposable
    {
        private readonly ManualResetEventSlim done = new();
        private readonly SemaphoreSlim taken = new(0);

        public async Task Take(Admission admission, string tenant)
        {
            _ = admission.Admit(tenant, _ =>
            {
                taken.Release();
                return done.Wait(TimeSpan.FromMinutes(5), CancellationToken.None);
            }, CancellationToken.None);
            await taken.WaitAsync();
        }

        public void Dispose() => done.Set();
    }
}
