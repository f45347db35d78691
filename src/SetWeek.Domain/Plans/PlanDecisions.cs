using OneOf;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Plans;

/// <summary>The decision to publish a plan.</summary>
public static class PlanDecisions
{
    /// <summary>A plan is published only if no decision has changed its input and it breaks no rule at that moment.</summary>
    /// <param name="overtaken">Whether a decision has changed the input since the plan was computed.</param>
    /// <param name="breaches">The rules that the plan breaks, by <see cref="PublishCheck"/>.</param>
    /// <param name="since">What has happened since the plan was computed, one sentence each.</param>
    public static OneOf<PlanPublished, Refusal> Publish(
        this StoreWeek week, CandidatePlan candidate, bool overtaken, IReadOnlyList<Breach> breaches,
        IReadOnlyList<string> since, CrewFile crew)
    {
        if (week.Published?.PlanId == candidate.Id)
            return new Refusal("published-already", "This plan is already published.");
        if (candidate.State != CandidateState.Ready || candidate.Plan is null)
            return new Refusal("plan-not-ready",
                $"This plan is {candidate.State.ToString().ToLowerInvariant()}. Only a ready plan can be published.");
        if (overtaken)
            return new Refusal("overtaken", "The week has changed since this plan was computed. Request a new plan.")
                { Because = since };
        if (breaches.Count > 0)
            return new Refusal("breaks-rules", "This plan breaks rules as of now. Request a new plan.")
            {
                Because = [.. breaches.Select(breach => breach.Sentence)],
            };
        var nameless = candidate.Plan.WithoutNames(crew) with { Tight = [], Conflict = [], Repairs = [] };
        return new PlanPublished(candidate.Id, candidate.InputHash, nameless, week.NextIssue, week.NextNumbers(nameless));
    }
}
