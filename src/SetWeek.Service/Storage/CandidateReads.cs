using Marten;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Weeks;

namespace SetWeek.Service.Storage;

/// <summary>Reads the requested plans.</summary>
public static class CandidateReads
{
    /// <summary>The plans of a week that are queued or being searched for.</summary>
    public static Task<IReadOnlyList<CandidatePlan>> UnfinishedCandidates(
        this IQuerySession session, string week, CancellationToken cancelled) =>
        session.Query<CandidatePlan>().Where(plan => plan.Week == week
            && (plan.State == CandidateState.Queued || plan.State == CandidateState.Solving)).ToListAsync(cancelled);

    /// <returns>Null if the week has no plan with that id.</returns>
    public static async Task<CandidatePlan?> FindCandidate(
        this IQuerySession session, string week, string id, CancellationToken cancelled) =>
        await session.LoadAsync<CandidatePlan>(id, cancelled) is { } plan && plan.Week == week ? plan : null;

    /// <summary>The plan with its current state: a ready plan whose input has changed since is overtaken.</summary>
    public static async Task<CandidatePlan> AsOfNow(
        this IQuerySession session, CandidatePlan candidate, FoldedStream<StoreWeek> week, CancellationToken cancelled)
    {
        if (candidate.State != CandidateState.Ready || week.State is not { } state || state.Published?.PlanId == candidate.Id)
            return candidate;
        var same = await session.InputHash(week, cancelled) == candidate.InputHash;
        return same ? candidate : candidate with { State = CandidateState.Overtaken };
    }
}
