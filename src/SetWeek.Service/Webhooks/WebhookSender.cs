using System.Collections.Concurrent;
using System.Net.Sockets;
using System.Text;
using Marten;
using Npgsql;
using SetWeek.Service.Feed;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Webhooks;

/// <summary>Delivers what is due. Every node does; a lane is claimed by one of them at a time.</summary>
public sealed class WebhookSender(
    IDocumentStore store, NpgsqlDataSource database, WebhookTarget target, WebhookOptions options, TimeProvider clock,
    ILogger<WebhookSender> log) : BackgroundService
{
    /// <summary>A slow target may take only a part of the lanes that are tried at once.</summary>
    private const int LanesAtOnce = 32, LanesOfOneWebhook = 8;

    private static readonly TimeSpan Interval = TimeSpan.FromMilliseconds(200), AfterFailure = TimeSpan.FromSeconds(2);
    private readonly ConcurrentDictionary<WebhookLane, Task> running = new();

    protected override async Task ExecuteAsync(CancellationToken stopping)
    {
        var isLost = false;
        while (!stopping.IsCancellationRequested)
        {
            try
            {
                await StartDue(stopping);
                isLost = false;
                await Task.Delay(Interval, clock, stopping);
            }
            catch (OperationCanceledException) when (stopping.IsCancellationRequested)
            {
                break;
            }
            catch (Exception error)
            {
                if (!isLost && error.GetBaseException() is NpgsqlException or SocketException or IOException)
                    log.LogWarning("The database does not respond to webhooks: {Reason}", error.GetBaseException().Message);
                else if (!isLost) log.LogError(error, "Webhooks could not be looked for");
                isLost = true;
                await Task.Delay(AfterFailure, clock, stopping).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            }
        }
        await Task.WhenAll(running.Values).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
    }

    private async Task StartDue(CancellationToken stopping)
    {
        var free = LanesAtOnce - running.Count;
        if (free <= 0) return;
        var busy = running.Keys.GroupBy(lane => $"{lane.Chain}/{lane.Webhook}")
            .Where(lanes => lanes.Count() >= LanesOfOneWebhook).Select(lanes => lanes.Key).ToList();
        foreach (var lane in await WebhookLane.Claim(
            database, clock.GetUtcNow(), Math.Min(free, LanesOfOneWebhook), busy, stopping))
        {
            var started = new TaskCompletionSource();
            running[lane] = started.Task;
            _ = Task.Run(async () =>
            {
                try
                {
                    await Run(lane, stopping);
                }
                finally
                {
                    running.TryRemove(lane, out _);
                    started.SetResult();
                }
            }, CancellationToken.None);
        }
    }

    /// <summary>Delivers the lane's events one after another, until there is none left or one fails.</summary>
    private async Task Run(WebhookLane lane, CancellationToken stopping)
    {
        var current = lane;
        try
        {
            for (WebhookLane? next = lane; next is not null; next = await Deliver(current, stopping)) current = next;
        }
        catch (Exception error) when (DatabaseErrors.IsOutage(error))
        {
            // The claim ends by itself, and the delivery is tried again.
            log.LogWarning("A delivery to the webhook {Webhook} in {Tenant} was interrupted: {Reason}", lane.Webhook, lane.Chain,
                error.GetBaseException().Message);
        }
        catch (Exception error)
        {
            log.LogError(error, "A delivery to the webhook {Webhook} in {Tenant} failed inside", lane.Webhook, lane.Chain);
            await FailInside(current);
        }
    }

    /// <summary>
    /// A delivery that cannot be made waits longer and longer too, and becomes a dead letter that somebody sees.
    /// </summary>
    private async Task FailInside(WebhookLane lane)
    {
        try
        {
            await lane.Failed(database, "The service could not make this delivery; its log says why.",
                clock.GetUtcNow() + options.WaitAfter(lane.Attempts, $"{lane.Webhook} {lane.Subject}"));
        }
        catch (Exception error) when (DatabaseErrors.IsOutage(error))
        {
            // The claim ends by itself.
        }
    }

    /// <returns>The lane with its next delivery; null if there is none now.</returns>
    private async Task<WebhookLane?> Deliver(WebhookLane lane, CancellationToken stopping)
    {
        var now = clock.GetUtcNow();
        if (stopping.IsCancellationRequested)
        {
            await lane.Release(database, now);
            return null;
        }
        await using var session = store.QuerySession(lane.Chain);
        if (await Webhook.Find(session, lane.Webhook, CancellationToken.None) is not { } webhook)
        {
            await lane.Remove(database);
            return null;
        }
        if (await lane.Oldest(database, CancellationToken.None) is not { } oldest) return await lane.Accepted(database, 0, now);
        var (place, sequence) = oldest;
        // Nothing is sent of an event that has become private since.
        var shown = await FeedPage.Show(
            session, [new FeedEntry(place, sequence, "", lane.Subject)], CancellationToken.None);
        if (shown is not [var item]) return await lane.Accepted(database, place, now);

        var body = Encoding.UTF8.GetString(FeedEnvelope.Encode(item.Event).Span);
        var headers = WebhookSecret.Headers(item.Event.Id!, now, body, webhook.SecretsAt(now));
        string? fault;
        try
        {
            fault = await target.Send(webhook.Url, body, headers, stopping);
        }
        catch (OperationCanceledException) when (stopping.IsCancellationRequested)
        {
            await lane.Release(database, now);
            return null;
        }
        now = clock.GetUtcNow();
        if (fault is null) return await lane.Accepted(database, place, now);
        var wait = options.WaitAfter(lane.Attempts, $"{lane.Webhook} {item.Event.Id}");
        await lane.Failed(database, fault, now + wait);
        if (wait is null)
            log.LogWarning("The webhook {Webhook} in {Tenant} has a dead letter after {Attempts} attempts: {Fault}",
                lane.Webhook, lane.Chain, lane.Attempts, fault);
        return null;
    }
}
