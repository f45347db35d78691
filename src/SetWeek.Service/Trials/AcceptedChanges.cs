using SetWeek.Domain.Revisions;
using SetWeek.Domain.Sentences;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Plans;

namespace SetWeek.Service.Trials;

/// <summary>What an accepted change did to the week, and the plan that was requested of it.</summary>
/// <param name="Changed">What changed, a sentence each; empty if the week was so already.</param>
/// <param name="Plan">Null if no plan was requested.</param>
public sealed record AcceptedChanges(IReadOnlyList<string> Changed, RequestPlan.Requested? Plan)
{
    /// <param name="before">The week before the revision. It still has the names of what was dropped.</param>
    public static AcceptedChanges Of(StoreWeek before, WeekRevision revision, RequestPlan.Requested? plan) =>
        new([.. revision.Events.Select(e => EventSentences.Of(before, revision.Crew, e))], plan);
}
