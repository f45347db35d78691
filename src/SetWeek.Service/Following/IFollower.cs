using Marten;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Following;

/// <summary>
/// Derives something from the events of each chain. One node at a time runs it. What it writes is committed together with its
/// place, so each event is followed once, in the order of the feed (docs/decisions/followers.md).
/// </summary>
public interface IFollower
{
    /// <summary>The name under which its places are stored. It never changes.</summary>
    string Name { get; }

    /// <summary>The stored names of the events that it needs nothing of.</summary>
    IReadOnlyList<string> Ignored { get; }

    /// <summary>Follows the next events of the session's chain. The caller commits the session.</summary>
    Task Follow(IDocumentSession session, IReadOnlyList<FeedEntry> entries, CancellationToken cancelled);
}
