using Marten;

namespace SetWeek.Service.Storage;

/// <summary>The options of the document store with the states that this node keeps, so that every session finds them.</summary>
public sealed class NodeStoreOptions(StateCache states) : StoreOptions
{
    public StateCache States => states;
}
