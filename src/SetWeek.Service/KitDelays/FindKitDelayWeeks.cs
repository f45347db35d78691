using Marten;
using SetWeek.Domain.Kits;
using SetWeek.Service.Storage;
using Wolverine;
using Wolverine.Attributes;
using Wolverine.Marten;

namespace SetWeek.Service.KitDelays;

/// <summary>Finds the next weeks of a kit delay that was reported for a direction.</summary>
/// <param name="From">The id of the week from which on to look.</param>
[MessageIdentity("setweek.find-kit-delay-weeks")]
public sealed record FindKitDelayWeeks(string Batch, string From);

/// <summary>
/// The weeks found, their messages, the place reached and the message that goes on from there are one transaction. So a message
/// that comes again after a crash finds another place and does nothing.
/// </summary>
public static class FindKitDelayWeeksHandler
{
    /// <summary>A node that does not know the weeks reads them at some 20 ms each.</summary>
    private const int InOneStep = 50;

    /// <summary>The batch may be cancelled at the same moment.</summary>
    private const int MaxAttempts = 20;

    public static async Task Handle(FindKitDelayWeeks message, Envelope envelope, IDocumentStore store,
        IServiceScopeFactory scopes, ILoggerFactory logs, CancellationToken stop)
    {
        for (var attempt = 1; ; attempt++)
        {
            await using var session = store.LightweightSession(envelope.TenantId!);
            if (await session.LoadAsync<KitDelay>(message.Batch, stop) is not { SearchFrom: { } from } batch
                || from != message.From) return;
            try
            {
                await using var scope = scopes.CreateAsyncScope();
                var outbox = scope.ServiceProvider.GetRequiredService<IMartenOutbox>();
                outbox.TenantId = envelope.TenantId;
                outbox.Enroll(session);
                foreach (var next in await Step(session, batch, from, stop)) await outbox.PublishAsync(next);
                await session.SaveChangesAsync(stop);
                return;
            }
            catch (Exception error) when (DatabaseErrors.IsConflict(error) && attempt < MaxAttempts)
            {
                // Cancelled meanwhile: read again.
            }
            catch (Exception error) when (error is not OperationCanceledException && !DatabaseErrors.IsOutage(error))
            {
                logs.CreateLogger("SetWeek.KitDelays").LogError(
                    error, "The weeks of the kit delay {Batch} of {Tenant} could not be found", batch.Id, envelope.TenantId);
                await Fail(store, envelope.TenantId!, batch.Id, stop);
                return;
            }
        }
    }

    /// <returns>The messages that follow.</returns>
    private static async Task<IReadOnlyList<object>> Step(
        IDocumentSession session, KitDelay batch, string from, CancellationToken stop)
    {
        if (batch.Cancelled)
        {
            session.Store(batch with { SearchFrom = null });
            return [];
        }
        var listed = await StreamList.Weeks(session, batch.Stores, from, InOneStep, stop);
        var (weeks, _) = await Streams.Summaries(session, [.. listed.Where(week => week.Id != from)], stop);
        var next = listed.Count < InOneStep ? null : listed[^1].Id;
        session.Store(batch with { SearchFrom = next });
        var messages = new List<object>();
        foreach (var week in weeks.Where(week => week.Direction == batch.Direction
            && week.Waiting.Any(kit => kit.Kit == batch.Kit && kit.Arrived is null) && !batch.IsCancelledFor(week.Store)))
        {
            session.Store(new KitDelayWeek
            {
                Id = KitDelayWeek.IdOf(batch.Id, week.Id), Batch = batch.Id, Week = week.Id, Store = week.Store,
                Kits = [batch.Kit!],
            });
            messages.Add(new DelayKitsOfWeek(batch.Id, week.Id));
        }
        if (next is not null) messages.Add(new FindKitDelayWeeks(batch.Id, next));
        return messages;
    }

    private static async Task Fail(IDocumentStore store, string tenant, string id, CancellationToken stop)
    {
        await using var session = store.LightweightSession(tenant);
        if (await session.LoadAsync<KitDelay>(id, stop) is not { } batch) return;
        session.Store(batch with
        {
            SearchFrom = null, Failure = "Not all weeks could be found: an internal error; the log of the service has it.",
        });
        await session.SaveChangesAsync(stop);
    }
}
