using SetWeek.Domain.Directions;
using SetWeek.Domain.Stores;

namespace SetWeek.Service;

/// <summary>The name under which each event is stored. A name is never changed and never used again; types may be renamed freely.</summary>
public static class StoredEvents
{
    public static IReadOnlyDictionary<Type, string> Names { get; } = new Dictionary<Type, string>
    {
        [typeof(StoreOpened)] = "store-opened",
        [typeof(DirectionIssued)] = "direction-issued",
        [typeof(DirectionRevised)] = "direction-revised",
    };
}
