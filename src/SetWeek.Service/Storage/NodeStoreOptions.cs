using Marten;
using Microsoft.Extensions.Logging.Abstractions;

namespace SetWeek.Service.Storage;

/// <summary>The options of the document store with the states that this node keeps, so that every session finds them.</summary>
public sealed class NodeStoreOptions(StateCache states) : StoreOptions
{
    private const int MostSummaries = 50_000;

    public StateCache States => states;

    public ILogger Log { get; init; } = NullLogger.Instance;

    /// <summary>What lists show of each week. An entry is small, so there is room for all weeks of large chains.</summary>
    public StateCache Summaries { get; } = new(MostSummaries);
}
