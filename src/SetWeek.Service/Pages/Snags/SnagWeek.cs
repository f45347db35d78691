namespace SetWeek.Service.Pages.Snags;

/// <summary>The week to which a page of snags belongs, and its reader.</summary>
/// <param name="Place">The direction and the store.</param>
public sealed record SnagWeek(
    string Id, string Place, string TimeZone, IReadOnlyList<Frame.Link> Links, Frame.Reader Reader);
