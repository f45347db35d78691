using NodaTime;

namespace SetWeek.Service.Pages.Kits;

/// <summary>The week to which a page of kits belongs, and its reader.</summary>
/// <param name="Place">The direction and the store.</param>
/// <param name="AsOf">The time of the answer in the store.</param>
public sealed record KitWeek(
    string Id, string Place, string TimeZone, LocalDateTime AsOf, IReadOnlyList<Frame.Link> Links, Frame.Reader Reader);
