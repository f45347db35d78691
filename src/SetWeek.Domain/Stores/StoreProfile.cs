using OneOf;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Stores;

/// <summary>The data of a store to which a direction is scoped.</summary>
/// <param name="TimeZone">IANA zone id.</param>
/// <param name="Features">Features of the building that a display may require: "canopy-points", "tall-window".</param>
/// <param name="Region">The part of the chain to which the store belongs; null for none.</param>
public sealed record StoreProfile(
    string Id, string Name, string TimeZone,
    IReadOnlyList<Zone> Zones, IReadOnlyList<Equipment> Equipment, IReadOnlyList<string> Features,
    StoreRegion? Region = null)
{
    public static StoreProfile? Evolve(StoreProfile? store, IStoreEvent e) => e switch
    {
        StoreOpened opened => opened.Store,
        _ => throw new ArgumentException($"No state follows from {e.GetType().Name}; add its case.", nameof(e)),
    };

    public static OneOf<StoreOpened, Refusal> Open(StoreProfile? existing, StoreProfile store) =>
        existing is null ? new StoreOpened(store) : new Refusal("store-open", $"The store \"{store.Id}\" is already open.");
}

/// <summary>A group of stores, such as those of one area manager.</summary>
public sealed record StoreRegion(string Id, string Name);
