using CloudNative.CloudEvents;
using JasperFx.Events;
using Marten;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Feed;

/// <summary>An event as the feed shows it, at its place.</summary>
public sealed record FeedItem(long Place, CloudEvent Event);

/// <summary>A page of the feed of the session's chain. The feed, its stream and webhooks all show these items.</summary>
/// <param name="End">The place from which the next page continues.</param>
public sealed record FeedPage(IReadOnlyList<FeedItem> Items, long End)
{
    public static async Task<FeedPage> ReadAfter(
        IQuerySession session, long place, int limit, CancellationToken cancelled)
    {
        var found = await FeedOrder.ReadAfter(session, place, limit, Published.PrivateNames, cancelled);
        return new FeedPage(await Show(session, found.Entries, cancelled), found.End);
    }

    /// <summary>
    /// Reads the stored events of the entries, and the notes that the feed shows with them. Notes can be erased, so they are read
    /// each time.
    /// </summary>
    public static async Task<IReadOnlyList<FeedItem>> Show(
        IQuerySession session, IReadOnlyList<FeedEntry> entries, CancellationToken cancelled)
    {
        if (entries.Count == 0) return [];
        var sequences = entries.Select(entry => entry.Sequence).ToArray();
        var stored = (await session.Events.QueryAllRawEvents().Where(e => e.Sequence.IsOneOf(sequences)).ToListAsync(cancelled))
            .ToDictionary(e => e.Sequence);
        var noted = stored.Values.Select(NoteOf).OfType<string>().ToArray();
        var notes = noted.Length == 0 ? []
            : (await session.LoadManyAsync<Note>(cancelled, noted)).ToDictionary(note => note.Id, note => note.Text);
        var zones = await WeekZones.Of(session, [.. entries.Select(entry => entry.Stream).Distinct()], cancelled);
        return
        [
            .. from entry in entries
               let e = stored[entry.Sequence]
               let published = Published.Of(e.Data, NoteOf(e) is { } note ? notes.GetValueOrDefault(note) : null)
               where published is not null
               select new FeedItem(entry.Place,
                   FeedEnvelope.Of(e, published, session.TenantId, zones.GetValueOrDefault(entry.Stream))),
        ];
    }

    private static string? NoteOf(IEvent e) => Published.NoteOf(e.Data, e.StreamKey![(e.StreamKey!.IndexOf('/') + 1)..]);
}
