using Marten;
using NodaTime;
using SetWeek.Domain.Kits;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Plans;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Service.Clocks;
using SetWeek.Service.Plans;
using SetWeek.Service.Solving;
using SetWeek.Service.Storage;
using Wolverine;

namespace SetWeek.Service.KitDelays;

/// <summary>
/// Takes the result of a re-plan into the report of its batch, and publishes it if the batch may and it changes no shift.
/// </summary>
public static class BatchPlanSettledHandler
{
    private const int MaxAttempts = 20;

    public static async Task Handle(BatchPlanSettled message, Envelope envelope, IDocumentStore store, PlanningClock clock,
        ILoggerFactory logs, CancellationToken stop)
    {
        for (var attempt = 1; ; attempt++)
        {
            await using var session = store.LightweightSession(envelope.TenantId!);
            var item = await session.LoadAsync<KitDelayWeek>(KitDelayWeek.IdOf(message.Batch, message.Week), stop);
            if (item is not { State: KitDelayState.Planning } || item.Plan != message.Plan) return;
            if (await session.FindCandidate(message.Week, message.Plan, stop) is not { Settled: true } candidate) return;
            try
            {
                session.Store(await Next(session, item, candidate, clock.Now, stop));
                await session.SaveChangesAsync(stop);
                return;
            }
            catch (Exception error) when (DatabaseErrors.IsConflict(error) && attempt < MaxAttempts)
            {
                // The week has moved; whether the plan may be published is decided again.
            }
            catch (Exception error) when (error is not OperationCanceledException && !DatabaseErrors.IsOutage(error))
            {
                await WeekFailures.Fail(store, envelope.TenantId!, item, error, logs, stop);
                return;
            }
        }
    }

    private static async Task<KitDelayWeek> Next(
        IDocumentSession session, KitDelayWeek item, CandidatePlan candidate, Instant now, CancellationToken stop)
    {
        if (candidate.State == CandidateState.Cancelled) return item.SupersededByLead();
        if (candidate.State == CandidateState.Failed)
            return item with { State = KitDelayState.Failed, Reason = candidate.Failure };
        var batch = (await session.LoadAsync<KitDelay>(item.Batch, stop))!;
        var stream = await Streams.Week(session, item.Week, stop);
        var crew = await session.CrewOf(item.Week, stop);
        // As it was computed: facts reported since belong to a later plan.
        var input = PlanningProblem.Of(stream.State!, crew, candidate.Now);
        var problem = Problem.Of(input.Week, new Replan(candidate.Replaces!, candidate.Now, []));
        var planned = item with { State = KitDelayState.Planned, Outcome = KitDelayOutcome.Of(candidate, problem) };
        if (batch.AutoPublish != AutoPublish.NoChangeToPublishedShifts || batch.IsCancelledFor(item.Store)
            || planned.Outcome is not { Launch: LaunchProspect.Kept, Shifts: 0 }) return planned;

        session.LastModifiedBy = batch.By;
        session.CausationId = $"delayKits {batch.Id}";
        session.HappenedAt(now);
        return (await PublishPlan.Decide(session, stream, candidate, now, batch.By, stop)).Match(
            published =>
            {
                stream.Append(session, published);
                return planned with { State = KitDelayState.Published };
            },
            refusal => planned with { Reason = refusal.Sentence });
    }
}
