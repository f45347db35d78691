using System.Globalization;
using OneOf;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;

namespace SetWeek.Service.Stores;

/// <summary>What of the ledger a page shows.</summary>
/// <param name="Direction">Null: every direction that is set now.</param>
/// <param name="Section">Null: all of them.</param>
/// <param name="Skip">How many weeks of the section come on the pages before.</param>
internal sealed record LedgerFilter(string? Direction, string? Region, string? Section, int Skip)
{
    public const string Unsafe = "unsafe", AtRisk = "at-risk", Silent = "silent", Rest = "rest";

    /// <summary>The sections, with what a reader chooses them by.</summary>
    public static IReadOnlyDictionary<string, string> Sections { get; } = new Dictionary<string, string>
    {
        [Unsafe] = "work that is stopped", [AtRisk] = "launches at risk", [Silent] = "silent stores", [Rest] = "the rest",
    };

    /// <summary>The filters that only the page has.</summary>
    public static IReadOnlyList<QueryParameter> Query { get; } =
    [
        new("direction", "On the page: only weeks of this direction, also past ones", "first-rain"),
        new("show", $"On the page: only {string.Join(", ", Sections.Keys)}", AtRisk),
        new("skip", "On the page: how many of these come on the pages before", "50", typeof(int)),
    ];

    public static OneOf<LedgerFilter, Answer> Of(Request request)
    {
        var (direction, region, section) =
            (request.Filter("direction"), request.Filter(WeekScan.RegionFilter.Name), request.Filter("show"));
        if (section is not null && !Sections.ContainsKey(section))
            return Refused.With(400, $"The filter show must be one of {string.Join(", ", Sections.Keys)}.", "no-section");
        if (new[] { direction, region }.Any(id => id is not null && !Ids.IsId(id)))
            return Refused.With(400, "The filters direction and region must be ids.", "no-id");
        var skip = 0;
        if (request.Filter("skip") is { } given
            && !int.TryParse(given, NumberStyles.None, CultureInfo.InvariantCulture, out skip))
            return Refused.With(400, "skip must be a whole number.", "no-skip");
        return new LedgerFilter(direction, region, section, skip);
    }

    public bool Shows(string section) => Section is null || Section == section;

    /// <summary>How many weeks of a section come before those that the page shows.</summary>
    public int SkipIn(string section) => Section == section ? Skip : 0;

    public string Address => AddressOf(Section, Skip);

    /// <summary>The address with the same filters and another part of the ledger.</summary>
    public string AddressOf(string? section, int skip)
    {
        var parts = new[]
        {
            ("direction", Direction), (WeekScan.RegionFilter.Name, Region), ("show", section),
            ("skip", skip == 0 ? null : skip.ToString(CultureInfo.InvariantCulture)),
        }.Where(part => part.Item2 is not null).Select(part => $"{part.Item1}={Uri.EscapeDataString(part.Item2!)}").ToList();
        return parts.Count == 0 ? "/stores" : $"/stores?{string.Join('&', parts)}";
    }
}
