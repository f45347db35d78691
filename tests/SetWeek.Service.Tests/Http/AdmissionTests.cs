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
    public async Task Where_too_much_is_worked_out_already_the_next_is_refused_in_the_time_set_and_answered_later()
    {
        var week = await new FirstRain(service.NewChain()).Open();
        var plan = $"{Address}/plans/{(await week.Plan())["id"]}";
        Func<Task<Heard>>[] askings =
        [
            () => week.Lead.Get($"{plan}/why/wall.paint"),
            () => week.Lead.Get($"{plan}/risk?runs=64&helps=no"),
            () => week.Lead.Post($"{Address}/what-if",
                """{"changes": [{"kind": "absence", "person": "p3", "night": "monday"}], "seconds": 1}"""),
        ];
        using (await Full())
            foreach (var asking in askings)
            {
                var started = Stopwatch.GetTimestamp();
                var refused = await asking();
                var took = Stopwatch.GetElapsedTime(started);
                Assert.Equal((503, "busy", "application/problem+json"), (refused.Status, refused.Code, refused.ContentType));
                Assert.Equal($"{service.Settings.AnswerPatience.TotalSeconds}", refused.RetryAfter);
                Assert.InRange(took, service.Settings.AnswerPatience * 0.9, service.Settings.AnswerPatience * 5);
            }
        foreach (var asking in askings) Assert.Equal(200, (await asking()).Status);
    }

    /// <summary>
    /// Whoever asks something quick is answered, however many wait: a wait takes no thread, the work one of its own.
    /// </summary>
    [Fact]
    public async Task Those_who_wait_are_in_nobodys_way()
    {
        using (await Full())
        {
            var waiting = Enumerable.Range(0, 200).Select(_ => Admission.Admit(_ => 1, CancellationToken.None)).ToArray();
            var started = Stopwatch.GetTimestamp();
            Assert.Equal(200, (await service.NewChain().HeadOffice.Get("/health/live")).Status);
            Assert.True(Stopwatch.GetElapsedTime(started) < service.Settings.AnswerPatience / 2);
            Assert.All(await Task.WhenAll(waiting), one => Assert.Equal(503, one.AsT1.Status));
        }
    }

    [Fact]
    public async Task Whoever_hangs_up_while_waiting_or_while_it_is_worked_out_gives_way_at_once()
    {
        var admission = new Admission(1, TimeSpan.FromMinutes(1));
        using var hangsUp = new CancellationTokenSource();
        using var begun = new SemaphoreSlim(0);
        var working = admission.Admit(stop =>
        {
            begun.Release();
            return stop.WaitHandle.WaitOne(TimeSpan.FromMinutes(1));
        }, hangsUp.Token);
        await begun.WaitAsync();
        var waiting = admission.Admit(_ => true, hangsUp.Token);

        await hangsUp.CancelAsync();

        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => working);
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => waiting);
        Assert.True((await admission.Admit(_ => true, CancellationToken.None)).AsT0);
    }

    /// <summary>
    /// The whole way from the caller's connection to the search: half a minute is asked for, and nobody waits for it.
    /// </summary>
    [Fact]
    public async Task A_caller_who_hangs_up_ends_the_search()
    {
        var chain = service.NewChain();
        await HarbourStreet.Open(chain.HeadOffice);
        using var caller = new CancellationTokenSource();
        var places = Enumerable.Range(0, service.Settings.AnswersAtOnce)
            .Select(_ => chain.LeadOf().Post($"{HarbourStreet.Address}/what-if",
            """{"changes": [{"op": "test", "path": "/currency", "value": "GBP"}], "seconds": 30}""", caller.Token)).ToArray();
        await Task.Delay(1500); // into the search

        await caller.CancelAsync();

        foreach (var place in places)
            await Assert.ThrowsAnyAsync<OperationCanceledException>(async () => Assert.Fail((await place).Text));
        var started = Stopwatch.GetTimestamp();
        Assert.True((await Admission.Admit(_ => true, CancellationToken.None)).IsT0);
        Assert.True(Stopwatch.GetElapsedTime(started) < TimeSpan.FromSeconds(1), $"{Stopwatch.GetElapsedTime(started)}");
    }

    /// <summary>Takes every place, until it is disposed of.</summary>
    private async Task<Places> Full()
    {
        var places = new Places();
        for (var place = 0; place < service.Settings.AnswersAtOnce; place++) await places.Take(Admission);
        return places;
    }

    private sealed class Places : IDisposable
    {
        private readonly ManualResetEventSlim done = new();
        private readonly SemaphoreSlim taken = new(0);

        public async Task Take(Admission admission)
        {
            _ = admission.Admit(_ =>
            {
                taken.Release();
                return done.Wait(TimeSpan.FromMinutes(5), CancellationToken.None);
            }, CancellationToken.None);
            await taken.WaitAsync();
        }

        public void Dispose() => done.Set();
    }
}
