using System.Globalization;
using NodaTime;
using OneOf;
using SetWeek.Domain.Snags;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events.Snags;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;
using SetWeek.Service.Pages.Snags;

namespace SetWeek.Service.Snags;

/// <summary>A snag that a filter selects, without its text.</summary>
/// <param name="Report">The report that raised it, by which its text is found.</param>
/// <param name="Kind">A key of <see cref="SnagFilter.Kinds"/>.</param>
internal sealed record FoundSnag(string Report, SnagOwner Owner, string Kind, ListSnags.SnagEntry Entry);

/// <summary>Which snags of the chain are listed.</summary>
/// <param name="Direction">Null: of every direction. Likewise for what follows.</param>
/// <param name="IsFixed">Whether those that are put right are listed, in place of those that are not.</param>
/// <param name="Kind">A key of <see cref="Kinds"/>.</param>
/// <param name="Skip">On the page: how many of this kind come on the pages before.</param>
internal sealed record SnagFilter(
    string? Store, string? Region, string? Direction, SnagOwnerKind? Owner, bool IsFixed, string? Kind, int Skip)
{
    public const string Hazard = "hazard", Late = "late", Others = "others", Fixed = "fixed";

    private const string Open = "open";

    /// <summary>The kinds, with what a reader chooses them by. What could hurt somebody is a hazard, also if late.</summary>
    public static IReadOnlyDictionary<string, string> Kinds { get; } = new Dictionary<string, string>
    {
        [Hazard] = "by which somebody could be hurt", [Late] = "past their day", [Others] = "the others",
    };

    /// <summary>The owners as in a body, with what a reader chooses them by.</summary>
    public static IReadOnlyDictionary<string, string> Owners { get; } = new Dictionary<string, string>
    {
        [SnagWords.OwnerValue(SnagOwnerKind.Store)] = "the store",
        [SnagWords.OwnerValue(SnagOwnerKind.Person)] = "somebody of the crew",
        [SnagWords.OwnerValue(SnagOwnerKind.HeadOffice)] = "head office",
        [SnagWords.OwnerValue(SnagOwnerKind.Supplier)] = "the supplier",
        [SnagWords.OwnerValue(SnagOwnerKind.Trade)] = "a trade",
    };

    public static IReadOnlyList<QueryParameter> Parameters { get; } =
    [
        new("direction", "Only of weeks of this direction", "first-rain"),
        new("owner", $"Only those of {string.Join(", ", Owners.Keys)}", "headOffice"),
        new("state", $"{Open} unless given, or {Fixed}: those that are put right", Fixed),
        new("show", $"Only {string.Join(", ", Kinds.Keys)}", Hazard),
        new("skip", "On the page: how many of these come on the pages before", "25", typeof(int)),
    ];

    public static OneOf<SnagFilter, Answer> Of(Request request)
    {
        var (owner, state, kind) = (request.Filter("owner"), request.Filter("state"), request.Filter("show"));
        if (owner is not null && !Owners.ContainsKey(owner))
            return Refused.With(400, $"The filter owner must be one of {string.Join(", ", Owners.Keys)}.", "no-owner");
        if (state is not (null or Open or Fixed))
            return Refused.With(400, $"The filter state must be {Open} or {Fixed}.", "no-state");
        if (kind is not null && !Kinds.ContainsKey(kind))
            return Refused.With(400, $"The filter show must be one of {string.Join(", ", Kinds.Keys)}.", "no-section");
        if (request.Filter("direction") is { } direction && !Ids.IsId(direction))
            return Refused.With(400, "The filter direction must be an id.", "no-id");
        var skip = 0;
        if (request.Filter("skip") is { } given
            && !int.TryParse(given, NumberStyles.None, CultureInfo.InvariantCulture, out skip))
            return Refused.With(400, "skip must be a whole number.", "no-skip");
        return new SnagFilter(
            request.Filter(WeekScan.StoreFilter.Name), request.Filter(WeekScan.RegionFilter.Name), request.Filter("direction"),
            owner is null ? null : Enum.GetValues<SnagOwnerKind>().Single(one => SnagWords.OwnerValue(one) == owner),
            state == Fixed, kind, skip);
    }

    /// <summary>The filter as the parameters of an address; those that are not used are null.</summary>
    public IReadOnlyList<(string Name, string? Value)> Parts =>
    [
        (WeekScan.StoreFilter.Name, Store), (WeekScan.RegionFilter.Name, Region), ("direction", Direction),
        ("owner", Owner is { } owner ? SnagWords.OwnerValue(owner) : null), ("state", IsFixed ? Fixed : null), ("show", Kind),
    ];

    /// <summary>The snags of a week that are selected, each with its key in the list.</summary>
    public IEnumerable<(string Key, FoundSnag Snag)> Of(WeekSummary week, Instant now)
    {
        if (Direction is not null && week.Direction != Direction) return [];
        var zone = DateTimeZoneProviders.Tzdb[week.TimeZone];
        var today = now.InZone(zone).Date;
        return from snag in SnagStatus.AllOf(week.Snags)
            where snag.IsOpen != IsFixed && (Owner is null || snag.Owner.Kind == Owner)
            let kind = snag.Raised.Safety ? Hazard : snag.IsOpen && snag.Due < today ? Late : Others
            where Kind is null || kind == Kind
            select ($"{week.Id}/{snag.Number:D6}", new FoundSnag(snag.Raised.Report, snag.Owner, kind, new ListSnags.SnagEntry(
                week.Id, week.Store, snag.Number, null, snag.Owner.Kind, snag.Due, snag.Raised.Safety,
                snag.State == SnagState.Accepted, snag.Raised.At, SnagView.AgeOf(snag.Raised, zone, today), week.Direction,
                week.SnagPlaces[snag.Raised.Report], snag.State)));
    }
}
