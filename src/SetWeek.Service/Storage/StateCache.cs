namespace SetWeek.Service.Storage;

/// <summary>
/// The folded streams that this node has read last. At most <paramref name="capacity"/> are kept; the least recently used one is
/// dropped first. What is kept is immutable and may be older than its stream: <see cref="Streams"/> folds what was appended
/// since.
/// </summary>
/// <param name="capacity">Most streams, at least 1.</param>
public sealed class StateCache(int capacity)
{
    public const int DefaultCapacity = 1000;

    private readonly Lock gate = new();
    private readonly Dictionary<(string Tenant, string Stream), LinkedListNode<Entry>> entries = [];
    private readonly LinkedList<Entry> byUse = new(); // the most recently used first

    private sealed record Entry((string Tenant, string Stream) Key, object Stream, long Version);

    public int Count
    {
        get { lock (gate) return entries.Count; }
    }

    /// <returns>Null if the stream is not kept.</returns>
    public FoldedStream<T>? Find<T>(string tenant, string stream) where T : class
    {
        lock (gate)
        {
            if (!entries.TryGetValue((tenant, stream), out var node)) return null;
            byUse.Remove(node);
            byUse.AddFirst(node);
            return (FoldedStream<T>)node.Value.Stream;
        }
    }

    /// <summary>Keeps a stream, unless it is kept already in this version or a newer one.</summary>
    public void Keep<T>(string tenant, FoldedStream<T> stream) where T : class
    {
        var entry = new Entry((tenant, stream.Id), stream, stream.Version);
        lock (gate)
        {
            if (entries.TryGetValue(entry.Key, out var before))
            {
                if (before.Value.Version >= entry.Version) return;
                byUse.Remove(before);
            }
            entries[entry.Key] = byUse.AddFirst(entry);
            if (entries.Count <= capacity) return;
            entries.Remove(byUse.Last!.Value.Key);
            byUse.RemoveLast();
        }
    }
}
