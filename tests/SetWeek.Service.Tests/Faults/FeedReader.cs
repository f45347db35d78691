using System.Globalization;
using System.Text.Json.Nodes;
using SetWeek.Testing;

namespace SetWeek.Service.Tests.Faults;

/// <summary>Head office, which follows the feed page by page while nodes and the database are killed.</summary>
internal sealed class FeedReader(Persistence headOffice)
{
    /// <param name="Sequence">Counts the events of the subject, with gaps where an event is private to the store.</param>
    public sealed record Entry(string Id, string Subject, int Sequence);

    public List<Entry> Seen { get; } = [];

    /// <summary>Follows until the end, then reads what is left.</summary>
    public Task FollowUntil(CancellationToken end) => new FeedPages(Read, limit: 50, TimeSpan.FromMilliseconds(50))
        .FollowUntil(end, events => Seen.AddRange(events.Select(Of!)));

    private async Task<(JsonArray Events, string Link)> Read(string path)
    {
        var page = await headOffice.Ask(node => node.Get(path));
        Assert.True(page.Status == 200, $"{page.Status}: {page.Text}");
        return (page.Json.AsArray(), page.Link!);
    }

    private static Entry Of(JsonNode e) => new((string)e["id"]!, (string)e["subject"]!,
        int.Parse((string)e["sequence"]!, CultureInfo.InvariantCulture));
}
