using System.Runtime.CompilerServices;
using Marten;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Weeks;

namespace SetWeek.Service.Storage;

/// <summary>
/// The hash of the planner's input for each version of a week that this node has read, so that whoever polls a plan makes no
/// hash. The hash depends on the week and its crew, and the crew changes only with an event of the week.
/// </summary>
public static class InputHashes
{
    private static readonly ConditionalWeakTable<FoldedStream<StoreWeek>, string> Known = [];

    /// <param name="week">A week that is open.</param>
    public static async Task<string> InputHash(
        this IQuerySession session, FoldedStream<StoreWeek> week, CancellationToken cancelled)
    {
        if (Known.TryGetValue(week, out var known)) return known;
        var state = week.State!;
        // The hash leaves out the time, so any will do.
        var hash = PlanningProblem.Of(state, await session.CrewOf(state.Id, cancelled), state.Week.Launch).Hash();
        return Known.GetValue(week, _ => hash);
    }
}
