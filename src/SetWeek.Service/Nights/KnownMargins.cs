using System.Collections.Concurrent;
using System.Runtime.CompilerServices;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Nights;

/// <summary>
/// The margins of the nights that this node has computed, for each version of a week that it has read. They depend on the week
/// and its crew, and the crew changes only with an event of the week. So phones that read a sheet again cost no propagation.
/// </summary>
internal static class KnownMargins
{
    private static readonly ConditionalWeakTable<FoldedStream<StoreWeek>, ConcurrentDictionary<string, NightMargins>> Known = [];

    /// <param name="week">A week whose plan is published.</param>
    /// <param name="night">The id of a night of the week.</param>
    public static NightMargins MarginsOf(this FoldedStream<StoreWeek> week, string night, CrewFile crew) =>
        Known.GetOrCreateValue(week).GetOrAdd(night, id => NightMargins.Of(week.State!, crew, id));
}
