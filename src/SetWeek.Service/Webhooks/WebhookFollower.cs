using Marten;
using SetWeek.Service.Feed;
using SetWeek.Service.Following;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Webhooks;

/// <summary>
/// Writes a row for each event that is to be delivered to a webhook. The row and the follower's place are one transaction, so no
/// event is left out or written twice.
/// </summary>
public sealed class WebhookFollower(TimeProvider clock) : IFollower
{
    public string Name => "webhooks";

    public IReadOnlyList<string> Ignored => Published.PrivateNames;

    public async Task Follow(IDocumentSession session, IReadOnlyList<FeedEntry> entries, CancellationToken cancelled)
    {
        var webhooks = await Webhook.Read(session, id: null, cancelled);
        if (webhooks.Count == 0) return;
        var types = webhooks.Any(webhook => webhook.Types is not null)
            ? (await FeedPage.Show(session, entries, cancelled)).ToDictionary(item => item.Place, item => item.Event.Type!) : [];
        foreach (var webhook in webhooks)
            foreach (var lane in entries.Where(entry => entry.Place > webhook.AfterPlace && IsWanted(webhook, entry))
                .GroupBy(entry => entry.Stream).OrderBy(lane => lane.Key, StringComparer.Ordinal))
                WriteLane(session, webhook.Id, lane);

        bool IsWanted(Webhook webhook, FeedEntry entry) =>
            webhook.Types is not { } wanted || types.TryGetValue(entry.Place, out var type) && wanted.Contains(type);
    }

    /// <summary>The lane's row comes first: it is locked until the commit, and whoever settles a delivery locks it too.</summary>
    private void WriteLane(IDocumentSession session, string webhook, IGrouping<string, FeedEntry> lane)
    {
        session.QueueSqlCommand("""
            insert into setweek.webhook_lane as known (tenant_id, webhook, subject, due, attempts, dead)
            values (?, ?, ?, ?, 0, false)
            on conflict (tenant_id, webhook, subject) do update
              set due = case when known.dead then null else coalesce(known.due, excluded.due) end
            """, session.TenantId, webhook, lane.Key, clock.GetUtcNow());
        foreach (var entry in lane)
            session.QueueSqlCommand(
                "insert into setweek.webhook_delivery (tenant_id, webhook, subject, place, seq_id) values (?, ?, ?, ?, ?)",
                session.TenantId, webhook, lane.Key, entry.Place, entry.Sequence);
    }
}
