using Marten;
using NodaTime;
using OneOf;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Kits;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Clocks;
using SetWeek.Service.Solving;
using SetWeek.Service.Storage;
using Wolverine;
using Wolverine.Attributes;

namespace SetWeek.Service.KitDelays;

/// <summary>Records the delay in one week and requests its re-plan.</summary>
[MessageIdentity("setweek.delay-kits-of-week")]
public sealed record DelayKitsOfWeek(string Batch, string Week);

/// <summary>
/// The events, the request for the re-plan and the progress of the batch are one transaction, so that a message which comes again
/// after a crash finds either nothing or everything done.
/// </summary>
public static class DelayKitsOfWeekHandler
{
    /// <summary>Reports from the floor may change a week at the same moment.</summary>
    private const int MaxAttempts = 20;

    public static async Task Handle(DelayKitsOfWeek message, Envelope envelope, IDocumentStore store, PlanIds ids,
        PlanningClock clock, TimeProvider system, ILoggerFactory logs, CancellationToken stop)
    {
        for (var attempt = 1; ; attempt++)
        {
            await using var session = store.LightweightSession(envelope.TenantId!);
            if (await session.LoadAsync<KitDelayWeek>(KitDelayWeek.IdOf(message.Batch, message.Week), stop)
                is not { State: KitDelayState.Waiting } item) return;
            var batch = (await session.LoadAsync<KitDelay>(message.Batch, stop))!;
            try
            {
                var asked = Instant.FromDateTimeOffset(system.GetUtcNow());
                session.Store(await Next(session, batch, item, new Asking(ids.Next(asked), asked, clock.Now), stop));
                await session.SaveChangesAsync(stop);
                return;
            }
            catch (Exception error) when (DatabaseErrors.IsConflict(error) && attempt < MaxAttempts)
            {
                // Decided again from what the others have committed.
            }
            catch (Exception error) when (error is not OperationCanceledException && !DatabaseErrors.IsOutage(error))
            {
                await WeekFailures.Fail(store, envelope.TenantId!, item, error, logs, stop);
                return;
            }
        }
    }

    /// <summary>A request for a plan that is about to be made.</summary>
    /// <param name="Asked">By the system's clock.</param>
    /// <param name="Now">By the clock of planning.</param>
    private sealed record Asking(string Id, Instant Asked, Instant Now);

    private static async Task<KitDelayWeek> Next(
        IDocumentSession session, KitDelay batch, KitDelayWeek item, Asking asking, CancellationToken stop)
    {
        if (batch.IsCancelledFor(item.Store)) return item with { State = KitDelayState.Cancelled };
        var stream = await Streams.Week(session, item.Week, stop);
        if (stream.State is not { } week) return item with { State = KitDelayState.Refused, Reason = "There is no such week." };
        if (Decide(week, item.Kits, batch.Eta).TryPickT1(out var reason, out var delays))
            return item with { State = KitDelayState.Refused, Reason = reason };

        session.LastModifiedBy = batch.By;
        session.CausationId = $"delayKits {batch.Id}";
        session.HappenedAt(batch.Asked);
        var delayed = delays.Aggregate(week, (state, e) => StoreWeek.Evolve(state, e)!);
        var change = delays.Count == 0 ? null : await session.PlanChange(delayed, delays, stop);
        if (change is not null) delayed = StoreWeek.Evolve(delayed, change)!;
        var version = stream.Append(session, change is null ? delays : [.. delays, change]);
        if (batch.Why is { } why && delays.Count > 0) session.Store(new Note(Note.IdOf(stream.Id, stream.Version + 1), why));
        if (delayed.Published is null)
            return item with
            {
                State = KitDelayState.Recorded, Reason = "No plan of this week is published yet, so nobody has to be told.",
            };
        var plan = Request(session, batch, delayed, version, await session.CrewOf(week.Id, stop), asking);
        return item with { State = KitDelayState.Planning, Plan = plan };
    }

    /// <summary>The events of all kits that can be late; or why none can. A kit that is as late already needs no event.</summary>
    private static OneOf<IReadOnlyList<IWeekEvent>, string> Decide(StoreWeek week, IReadOnlyList<string> kits, LocalDateTime? eta)
    {
        var (events, refusals, known) = (new List<IWeekEvent>(), new List<string>(), false);
        foreach (var kit in kits)
            if (week.Week.Kits.FirstOrDefault(found => found.Id == kit) is { } same && same.Eta == eta
                && !week.Arrivals.ContainsKey(kit))
                known = true;
            else week.DelayKit(kit, eta).Switch(events.Add, refusal => refusals.Add(refusal.Sentence));
        return events.Count == 0 && !known ? string.Join(' ', refusals) : events;
    }

    private static string Request(
        IDocumentSession session, KitDelay batch, StoreWeek week, long version, CrewFile crew, Asking asking)
    {
        var input = PlanningProblem.Of(week, crew, PlanningProblem.NotBefore(week, StoreTime.Local(week, asking.Now)));
        session.Insert(new CandidatePlan
        {
            Id = asking.Id, Week = week.Id, State = CandidateState.Queued, WeekVersion = version, InputHash = input.Hash(),
            Now = input.Replan!.Now, Asked = asking.Asked, Limits = batch.Limits, Batch = batch.Id,
            Replaces = input.Replan.Published,
        });
        session.Ask(week.Id, asking.Id, SolvePriority.Batch);
        return asking.Id;
    }
}
