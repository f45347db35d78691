using System.Globalization;
using System.Text.Json.Nodes;

namespace SetWeek.Service.Tests.Faults;

/// <summary>Head office, which follows the feed page by page while nodes and the database are killed.</summary>
internal sealed class FeedReader(Persistence headOffice)
{
    /// <param name="Sequence">Counts the events of the subject, with gaps where an event is private to the store.</param>
    public sealed record Entry(string Id, string Subject, int Sequence);

    private string next = "/feed?limit=50";

    public List<Entry> Seen { get; } = [];

    /// <summary>Follows until the end, then reads what is left.</summary>
    public async Task FollowUntil(CancellationToken end)
    {
        while (true)
        {
            // Tested before reading, so that everything written by now is read.
            var last = end.IsCancellationRequested;
            var page = await headOffice.Ask(node => node.Get(next));
            Assert.True(page.Status == 200, $"{page.Status}: {page.Text}");
            var entries = page.Json.AsArray().Select(Of!).ToList();
            Seen.AddRange(entries);
            next = page.Link![1..page.Link!.IndexOf('>')];
            if (last && entries.Count == 0) return;
            if (entries.Count == 0) await Task.Delay(50, CancellationToken.None);
        }
    }

    private static Entry Of(JsonNode e) => new((string)e["id"]!, (string)e["subject"]!,
        int.Parse((string)e["sequence"]!, CultureInfo.InvariantCulture));
}
