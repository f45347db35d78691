using Marten;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Service.Storage;

/// <summary>Reads the requested plans.</summary>
public static class CandidateReads
{
    /// <summary>The plans of a week that are queued or being searched for.</summary>
    public static Task<IReadOnlyList<CandidatePlan>> UnfinishedCandidates(
        this IQuerySession session, string week, CancellationToken cancelled) =>
        session.Query<CandidatePlan>().Where(plan => plan.Week == week
            && (plan.State == CandidateState.Queued || plan.State == CandidateState.Solving)).ToListAsync(cancelled);

    /// <summary>The id of the plan that was asked for last; null if none was. The ids sort by age.</summary>
    public static async Task<string?> LatestCandidate(this IQuerySession session, string week, CancellationToken cancelled) =>
        await session.Query<CandidatePlan>().Where(plan => plan.Week == week).OrderByDescending(plan => plan.Id)
            .Select(plan => plan.Id).FirstOrDefaultAsync(cancelled);

    /// <returns>Null if the week has no plan with that id.</returns>
    public static async Task<CandidatePlan?> FindCandidate(
        this IQuerySession session, string week, string id, CancellationToken cancelled) =>
        await session.LoadAsync<CandidatePlan>(id, cancelled) is { } plan && plan.Week == week ? plan : null;

    /// <summary>What has happened in a week since a version of it.</summary>
    public static async Task<IReadOnlyList<IWeekEvent>> EventsSince(
        this IQuerySession session, StoreWeek week, long version, CancellationToken cancelled) =>
        [.. (await session.Events.FetchStreamAsync(Streams.WeekKey(week.Id), fromVersion: version + 1, token: cancelled))
            .Select(e => e.Data).OfType<IWeekEvent>()];

    /// <summary>
    /// The plan with its current state. A ready plan is overtaken if a decision has changed its input since, or if it breaks a
    /// rule with what the floor has reported of the kits since. Reported work is checked when the plan is published.
    /// </summary>
    public static async Task<CandidatePlan> AsOfNow(
        this IQuerySession session, CandidatePlan candidate, FoldedStream<StoreWeek> week, CancellationToken cancelled)
    {
        if (candidate.State != CandidateState.Ready || week.State is not { } state || state.Published?.PlanId == candidate.Id)
            return candidate;
        if (await session.InputHash(week, cancelled) == candidate.InputHash) return candidate;
        var since = await session.EventsSince(state, candidate.WeekVersion, cancelled);
        return since.All(PublishCheck.IsFloorFact)
            && PublishCheck.Breaches(state, PlanningProblem.Of(state, await session.CrewOf(state.Id, cancelled), candidate.Now),
                candidate.Plan!).Count == 0
            ? candidate : candidate with { State = CandidateState.Overtaken };
    }
}
