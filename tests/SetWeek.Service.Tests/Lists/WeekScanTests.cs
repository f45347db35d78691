using Marten;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;
using SetWeek.Service.Solving;
using SetWeek.Service.Storage;
using static SetWeek.Service.Tests.Weeks.FirstRain;

namespace SetWeek.Service.Tests.Lists;

/// <summary>What a page of a list of weeks may cost, with limits that a few weeks exceed.</summary>
[Collection(ServiceCollection.Name)]
public sealed class WeekScanTests(RunningService service)
{
    private const int Weeks = 7, Plenty = 1000;

    [Fact]
    public async Task A_page_ends_after_the_weeks_looked_at_and_the_next_goes_on_behind_them()
    {
        var pages = await Pages(await Open(), new WeekScan.Limits(MostWeeks: 4, MostUnknown: Plenty, Chunk: 2), limit: 50);
        // Each chunk begins with the last week of the one before, which is looked at again.
        Assert.Equal([["w1/a", "w1/b", "w2/a", "w2/b", "w3/a", "w3/b"],
            ["w4/a", "w4/b", "w5/a", "w5/b"], ["w6/a", "w6/b", "w7/a", "w7/b"], []], pages);
    }

    /// <summary>The last week of a page is known when the next begins with it.</summary>
    [Fact]
    public async Task A_page_ends_after_the_weeks_that_the_node_did_not_know()
    {
        var pages = await Pages(await Open(), new WeekScan.Limits(MostWeeks: Plenty, MostUnknown: 3, Chunk: 3), limit: 50);
        Assert.Equal([["w1/a", "w1/b", "w2/a", "w2/b", "w3/a", "w3/b"],
            ["w4/a", "w4/b", "w5/a", "w5/b", "w6/a", "w6/b", "w7/a", "w7/b"], []], pages);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    [InlineData(4)]
    public async Task A_page_that_ends_within_a_week_or_a_chunk_loses_and_repeats_nothing(int limit)
    {
        var pages = await Pages(await Open(), new WeekScan.Limits(Plenty, Plenty, Chunk: 2), limit);
        Assert.Equal(All, pages.SelectMany(page => page));
        Assert.All(pages, page => Assert.InRange(page.Count, 1, limit));
    }

    [Fact]
    public async Task Short_pages_without_an_entry_lead_to_the_one_that_has_it()
    {
        var pages = await Pages(await Open(), new WeekScan.Limits(MostWeeks: 2, Plenty, Chunk: 2), limit: 50, only: "w7");
        Assert.Equal([[], [], [], [], [], ["w7/a", "w7/b"], []], pages);
    }

    private static IEnumerable<string> All => Enumerable.Range(1, Weeks).SelectMany(week => new[] { $"w{week}/a", $"w{week}/b" });

    private async Task<Chain> Open()
    {
        var chain = service.NewChain();
        await ExpectStatus(201, chain.HeadOffice.Post("/directions", Direction));
        await ExpectStatus(201, chain.HeadOffice.Post("/stores", Samples.Store()));
        for (var week = Weeks; week >= 1; week--)
            await ExpectStatus(201, chain.LeadOf().Post("/weeks", Opening.Replace("first-rain.harbour-street", $"w{week}")));
        return chain;
    }

    /// <summary>All pages, as a node that has just started lists them. Each week has two entries.</summary>
    private async Task<List<IReadOnlyList<string>>> Pages(Chain chain, WeekScan.Limits limits, int limit, string? only = null)
    {
        var options = new NodeStoreOptions(new StateCache(100));
        MartenConfiguration.Configure(options, service.Host.Services.GetRequiredService<Npgsql.NpgsqlDataSource>());
        using var node = new DocumentStore(options);
        var (pages, after) = (new List<IReadOnlyList<string>>(), (string?)"");
        while (after is not null)
        {
            Assert.True(pages.Count < 50, "The pages do not end.");
            await using var session = node.QuerySession(chain.Tenant);
            (var entries, after) = await WeekScan.Page(RequestOf(chain), session, new ListPage(after, limit),
                week => only is null || week.Id == only
                    ? ((string[])["a", "b"]).Select(entry => ($"{week.Id}/{entry}", $"{week.Id}/{entry}")) : [], limits);
            pages.Add(entries);
        }
        return pages;
    }

    private Request RequestOf(Chain chain) => new(new Caller(chain.Tenant, "lena", Role.Lead, [Caller.AnyStore]),
        Instant.FromUtc(2027, 3, 8, 11, 0), Instant.FromUtc(2027, 3, 8, 11, 0), new Dictionary<string, string>(),
            new QueryCollection(), [])
    {
        Admission = service.Host.Services.GetRequiredService<Admission>(),
        PlanIds = service.Host.Services.GetRequiredService<PlanIds>(),
        Outbound = service.Host.Services.GetRequiredService<OutboundRules>(),
    };
}
