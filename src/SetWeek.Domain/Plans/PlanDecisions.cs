using OneOf;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Plans;

/// <summary>Whether a plan may become the one that the store works by.</summary>
public static class PlanDecisions
{
    /// <summary>A plan is published only where its input is still what it was and it breaks no rule at that moment.</summary>
    /// <param name="inputHash">Of the input as it is now.</param>
    /// <param name="breaches">What the check finds against the facts of now.</param>
    /// <param name="since">What has happened since the version that the plan was computed from, a sentence each.</param>
    public static OneOf<PlanPublished, Refusal> Publish(
        this StoreWeek week, CandidatePlan candidate, string inputHash, IReadOnlyList<Breach> breaches,
        IReadOnlyList<string> since, CrewFile crew)
    {
        if (week.Published?.PlanId == candidate.Id)
            return new Refusal("published-already", "This plan is published already.");
        if (candidate.State != CandidateState.Ready || candidate.Plan is null)
            return new Refusal("plan-not-ready",
                $"This plan is {candidate.State.ToString().ToLowerInvariant()}; only one that is ready can be published.");
        if (inputHash != candidate.InputHash)
            return new Refusal("overtaken", "Facts have overtaken this plan; ask for a new one.") { Because = since };
        if (breaches.Count > 0)
            return new Refusal("breaks-rules", "By now this plan breaks rules; ask for a new one.")
            {
                Because = [.. breaches.Select(breach => breach.Sentence)],
            };
        var nameless = candidate.Plan.WithoutNames(crew) with { Tight = [], Conflict = [], Repairs = [] };
        return new PlanPublished(candidate.Id, candidate.InputHash, nameless);
    }
}
