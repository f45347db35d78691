using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events.Snags;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Sentences;

/// <summary>Where a snag is and whose it is, in words.</summary>
public static class SnagPhrases
{
    /// <summary>"Feature wall", "Painted wall (Feature wall)", "Paint the wall, 115 (Feature wall)".</summary>
    public static string Place(StoreWeek week, SnagRaised snag)
    {
        var area = Area(week.Week, snag);
        if (snag.Zone is not null) return area ?? snag.Zone;
        var thing = snag.Display is { } display ? week.Week.Displays.FirstOrDefault(known => known.Id == display)?.Name ?? display
            : snag.Task is { } task ? $"{week.Week.Tasks.FirstOrDefault(known => known.Id == task)?.Name ?? task}, {snag.Piece}"
            : $"Clean-down, {snag.Piece}";
        return area is null ? thing : $"{thing} ({area})";
    }

    /// <summary>The name of the zone in which a snag is; null if that is not known.</summary>
    public static string? Area(Week week, SnagRaised snag) =>
        snag.Area is { } area ? week.Store.Zones.FirstOrDefault(zone => zone.Id == area)?.Name ?? area : null;

    /// <summary>"the store", "Asha Rowan", "electrician".</summary>
    public static string Owner(CrewFile crew, SnagOwner owner) => owner.Kind switch
    {
        SnagOwnerKind.Store => "the store",
        SnagOwnerKind.HeadOffice => "head office",
        SnagOwnerKind.Supplier => "the supplier",
        SnagOwnerKind.Trade => owner.Trade ?? "a trade",
        SnagOwnerKind.Person => crew.NameOf(owner.Person ?? ""),
    };
}
