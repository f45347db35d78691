using System.Text.Json;
using Marten;
using SetWeek.Domain.Figures;
using SetWeek.Service.Following;
using SetWeek.Service.Json;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Figures;

/// <summary>
/// Keeps the figures of each week. The events say only which weeks have moved; the figures are those of the week's state as read
/// then, which may already be a later one. So a row is replaced only by one of a newer version.
/// </summary>
public sealed class FiguresFollower : IFollower
{
    public const string FollowerName = "figures";

    public string Name => FollowerName;

    public IReadOnlyList<string> Ignored => [];

    public async Task Follow(IDocumentSession session, IReadOnlyList<FeedEntry> entries, CancellationToken cancelled)
    {
        var prefix = Streams.WeekKey("");
        foreach (var stream in entries.Select(entry => entry.Stream).Distinct()
            .Where(stream => stream.StartsWith(prefix, StringComparison.Ordinal)))
        {
            var read = await Streams.Week(session, stream[prefix.Length..], cancelled);
            if (read.State is not { } week) continue;
            session.QueueSqlCommand("""
                insert into setweek.figures as known (tenant_id, week, version, figures) values (?, ?, ?, ?::jsonb)
                on conflict (tenant_id, week) do update set version = excluded.version, figures = excluded.figures
                where excluded.version > known.version
                """, session.TenantId, week.Id, read.Version, JsonSerializer.Serialize(WeekFigures.Of(week), JsonFormat.Options));
        }
    }
}
