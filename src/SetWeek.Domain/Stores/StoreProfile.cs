using OneOf;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Stores;

/// <summary>A store as head office knows it: what a direction is scoped to.</summary>
/// <param name="TimeZone">IANA zone id.</param>
/// <param name="Features">What the building offers and a display may require: "canopy-points", "tall-window".</param>
public sealed record StoreProfile(
    string Id, string Name, string TimeZone,
    IReadOnlyList<Zone> Zones, IReadOnlyList<Equipment> Equipment, IReadOnlyList<string> Features)
{
    public static StoreProfile? Evolve(StoreProfile? store, IStoreEvent happened) => happened switch
    {
        StoreOpened opened => opened.Store,
        _ => store,
    };

    public static OneOf<StoreOpened, Refusal> Open(StoreProfile? already, StoreProfile store) =>
        already is null ? new StoreOpened(store) : new Refusal("store-open", $"Store \"{store.Id}\" is open already.");
}
