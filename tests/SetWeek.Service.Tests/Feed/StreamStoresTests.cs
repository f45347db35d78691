using Marten;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Access;
using SetWeek.Service.Tests.Weeks;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Feed;

/// <summary>What the page of the stores follows.</summary>
[Collection(ServiceCollection.Name)]
public sealed class StreamStoresTests(RunningService service)
{
    private const string Own = "week/first-rain.mill-lane";

    [Fact]
    public async Task A_region_hears_that_something_happens_in_its_own_stores_and_not_what()
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store("mill-lane", "Mill Lane")));
        var lead = chain.LeadOf("mill-lane");
        await ExpectStatus(201, lead.Post("/weeks", Opening.Replace("harbour-street", "mill-lane")));
        await using var live = await chain.StreamAs("rex", Role.Region, "/feed/stores?after=now", "mill-lane");
        await Ask(week.Lead, "harbour-street");
        await Ask(lead, "mill-lane");
        Assert.Equal(Told(Own), await live.Next());

        await using var all = await chain.StreamAs("rex", Role.Region, "/feed/stores", "mill-lane");
        Assert.Equal(new[] { "direction/first-rain", "store/mill-lane", Own, Own }.Select(Told), await all.Next(4));
        await using var head = await chain.Stream("/feed/stores");
        Assert.Equal(7, (await head.Next(7)).Count);
        Assert.Equal(400, (await chain.HeadOffice.Get("/feed/stores?after=nonsense")).Status);
    }

    /// <summary>Nobody knows whose stores it concerns. Head office reads it in the feed.</summary>
    [Theory]
    [InlineData(Role.HeadOffice), InlineData(Role.Region), InlineData(Role.Lead)]
    public async Task An_event_of_a_stream_of_an_unknown_kind_reaches_nobody(Role role)
    {
        var chain = service.NewChain();
        var week = await new FirstRain(chain).Open();
        await using var live = await chain.StreamAs("someone", role, "/feed/stores?after=now", "harbour-street");
        await using (var session = service.Host.Services.GetRequiredService<IDocumentStore>().LightweightSession(chain.Tenant))
        {
            session.Events.StartStream("lorry/harbour-street", new LaunchMoved(new LocalDateTime(2027, 3, 12, 10, 0)));
            await session.SaveChangesAsync();
        }
        await Ask(week.Lead, "harbour-street");
        Assert.Equal(Told("week/first-rain.harbour-street"), await live.Next());
        Assert.Contains("\"lorry/harbour-street\"", (await chain.HeadOffice.Get("/feed")).Text);
    }

    [Fact]
    public async Task The_ledger_of_every_reader_but_crew_and_engineers_follows_it()
    {
        var chain = service.NewChain();
        await new FirstRain(chain).Open();
        foreach (var role in new[] { Role.HeadOffice, Role.Region, Role.Lead, Role.Crew, Role.Engineer })
        {
            var page = await ExpectStatus(200, chain.As("someone", role, "harbour-street").Get("/stores", ("Accept", "text/html")));
            Assert.Equal(role is not (Role.Crew or Role.Engineer),
                page.Text.Contains("data-follow=\"/feed/stores?after=", StringComparison.Ordinal));
        }
    }

    private static string Told(string subject) => $$"""{"subject":"{{subject}}"}""";

    private static Task Ask(ApiClient lead, string store) => ExpectStatus(204, lead.Post($"/weeks/first-rain.{store}/questions",
        """{"id": "q1", "for": "headOffice", "text": "Which one?", "at": "2027-03-08T20:11:00Z"}"""));
}
