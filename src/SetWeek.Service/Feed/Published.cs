using SetWeek.Domain.Stores;

namespace SetWeek.Service.Feed;

/// <summary>What head office hears of an event. A contract of its own: stored events change for our reasons, this for theirs.</summary>
/// <param name="Type">setweek.NAME.vN; a change that old readers would misread gets a new N.</param>
public sealed record Published(string Type, object Data)
{
    /// <summary>Null: private to the store.</summary>
    public static Published? Of(object happened) => happened switch
    {
        StoreOpened store => new("setweek.store-opened.v1", new { store = store.Store.Id, store.Store.Name, store.Store.TimeZone }),
        _ => null,
    };
}
