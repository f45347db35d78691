using System.Collections.Concurrent;
using System.Runtime.CompilerServices;
using Marten;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Plans;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Nights;

/// <summary>
/// The margins of the nights that this node has computed, kept as long as their plan is in memory. They depend on the planner's
/// input and not on reported work. So a phone that reads a sheet costs a propagation only after a decision.
/// </summary>
internal static class KnownMargins
{
    private static readonly ConditionalWeakTable<Plan,
        ConcurrentDictionary<(string Input, string Night), Lazy<Task<NightMargins>>>> Known = [];

    /// <summary>
    /// The margins of several nights for a page that must not be slow: those that are known already, and those that are computed
    /// in the given time. A computation that takes longer goes on, so that the next reader finds its result.
    /// </summary>
    /// <param name="nights">The ids of nights of the plan, in the order in which they are wanted.</param>
    public static async Task<IReadOnlyDictionary<string, NightMargins>> CheapMarginsOf(this IQuerySession session,
        FoldedStream<StoreWeek> week, IReadOnlyList<string> nights, CrewFile crew, TimeSpan patience, CancellationToken cancelled)
    {
        var found = new Dictionary<string, NightMargins>();
        var input = await session.InputHash(week, cancelled);
        var known = Known.GetOrCreateValue(week.State!.Published!.Plan);
        var end = Task.Delay(patience, cancelled);
        foreach (var night in nights.Where(night => week.State.Week.Nights.Any(open => open.Id == night)))
        {
            // Once the time is over, only what is there already is taken.
            if (end.IsCompleted && !known.ContainsKey((input, night))) continue;
            var margins = session.MarginsOf(week, night, crew, cancelled);
            if (await Task.WhenAny(margins, end) == margins || margins.IsCompleted) found[night] = await margins;
        }
        return found;
    }

    /// <param name="week">A week whose plan is published.</param>
    /// <param name="night">The id of a night of the week.</param>
    public static async Task<NightMargins> MarginsOf(
        this IQuerySession session, FoldedStream<StoreWeek> week, string night, CrewFile crew, CancellationToken cancelled)
    {
        var input = await session.InputHash(week, cancelled);
        var nights = Known.GetOrCreateValue(week.State!.Published!.Plan);
        // In a week of 500 tasks this takes a second or two, so it gets a thread of its own.
        return await nights.GetOrAdd((input, night), _ => new Lazy<Task<NightMargins>>(
            () => Admission.OnOwnThread(() => NightMargins.Of(week.State!, crew, night)))).Value.WaitAsync(cancelled);
    }
}
