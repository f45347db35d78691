using JasperFx.Events;
using Marten;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using SetWeek.Service.Http.Idempotency;
using SetWeek.Service.Storage;
using SetWeek.Service.Tests.Weeks;

namespace SetWeek.Service.Tests.Storage;

[Collection(ServiceCollection.Name)]
public sealed class MetadataTests(RunningService service)
{
    [Fact]
    public async Task Every_event_has_its_user_its_times_and_its_cause()
    {
        var chain = service.NewChain();
        var before = TimeProvider.System.GetUtcNow().AddSeconds(-1);
        var week = await new FirstRain(chain).Open();
        chain.Clock.MoveTo("2027-03-08T12:40");
        await FirstRain.ExpectStatus(204, week.Lead.Post($"{FirstRain.Address}/kits/forms/arrived",
            """{"id": "phone-1.1", "at": "2027-03-08T12:30:00Z", "lines": [{"item": "form", "received": 4}]}""",
            (IdempotencyKey.Header, "k-7")));

        var opened = (await Events(chain, "week/first-rain.harbour-street"))[0];
        Assert.Equal(("lena", "openWeek"), (opened.UserName, opened.CausationId));
        Assert.InRange(opened.Timestamp, before, TimeProvider.System.GetUtcNow().AddSeconds(1));
        Assert.Equal(Instant.FromUtc(2027, 3, 5, 12, 0), EventMetadata.HappenedAt(opened)); // by the clock of planning
        Assert.False(string.IsNullOrEmpty(opened.CorrelationId));

        var arrived = (await Events(chain, "week/first-rain.harbour-street"))[^1];
        Assert.Equal("takeKitIn k-7", arrived.CausationId);
        Assert.Equal(Instant.FromUtc(2027, 3, 8, 12, 30), EventMetadata.HappenedAt(arrived));
        Assert.InRange(arrived.Timestamp, before, TimeProvider.System.GetUtcNow().AddSeconds(1));
    }

    [Fact]
    public async Task No_event_contains_names_rates_or_free_text()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await FirstRain.ExpectStatus(204, week.Lead.Post($"{FirstRain.Address}/crew/p1/absent",
            """{"night": "monday", "why": "A broken wrist."}"""));
        await FirstRain.ExpectStatus(204, week.HeadOffice.Post($"{FirstRain.Address}/kits/forms/delayed",
            """{"eta": "2027-03-08T13:00", "why": "Snow on the pass."}"""));
        await week.PlanAndPublish();

        await using var session = service.Host.Services.GetRequiredService<IDocumentStore>().QuerySession(chain.Tenant);
        var stored = string.Join('\n', await session.QueryAsync<string>(
            "select data::text from setweek.mt_events where tenant_id = ?", chain.Tenant));
        Assert.Contains("p1", stored);
        Assert.All(["Asha", "Rowan", "Ben Marsh", "ratePerHour", "wrist", "Snow"], word => Assert.DoesNotContain(word, stored));
    }

    [Fact]
    public async Task Concurrent_reports_of_a_crew_are_all_stored()
    {
        const int reports = 40;
        var week = await new FirstRain(service.NewChain()).Open();
        await week.PlanAndPublish();
        week.Clock.MoveTo("2027-03-08T21:00");
        var answers = await Task.WhenAll(Enumerable.Range(1, reports)
            .Select(n => week.Lead.Post($"{FirstRain.Address}/work/blocked",
            $$"""{"id": "phone-{{n}}.1", "task": "wall.paint", "at": "2027-03-08T20:{{n:00}}:00Z", "reason": "no-access"}""")));
        Assert.All(answers, answer => Assert.True(answer.Status == 204, answer.Text));
        // The first of them breaks the plan, which is an event of its own.
        await week.PlanIsChecked();
        Assert.Equal($"\"{reports + 3}\"", await week.ETag());
    }

    private async Task<IReadOnlyList<IEvent>> Events(Chain chain, string stream)
    {
        await using var session = service.Host.Services.GetRequiredService<IDocumentStore>().QuerySession(chain.Tenant);
        return await session.Events.FetchStreamAsync(stream);
    }
}
