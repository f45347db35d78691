using System.Globalization;
using Marten;
using SetWeek.Domain.Weeks.Events.Snags;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;
using SetWeek.Service.Pages.HeadOffice;
using SetWeek.Service.Pages.Snags;
using SetWeek.Service.Words;

namespace SetWeek.Service.Snags;

/// <summary>
/// The snags of the chain as a page. It reads the summaries of the weeks like the list, sorts what they have, and reads texts and
/// names only for what it shows.
/// </summary>
internal static class SnagLedger
{
    private const int MostEntries = 25, MostStores = 200;

    public static async Task<Answer> Page(Request request, IQuerySession session, ListPage page, SnagFilter filter)
    {
        var (found, last) = await WeekScan.Page(
            request, session, page with { Limit = int.MaxValue }, week => filter.Of(week, request.Now));
        var shown = Headings.Where(heading => heading.IsFixed == filter.IsFixed)
            .Select(heading => (Heading: heading, All: InOrder(found, heading.Kind)))
            .Select(part => (part.Heading, part.All, Shown: part.All.Skip(filter.Skip).Take(MostEntries).ToList())).ToList();
        var stores = await StreamNames.OfStores(session,
            found.Select(snag => snag.Entry.Store).Distinct().Take(MostStores)
                .Concat(shown.SelectMany(part => part.Shown.Select(snag => snag.Entry.Store)))
                .Concat(filter.Store is { } store ? [store] : []), request.Cancelled);
        var directions = await StreamNames.OfDirections(session, found.Select(snag => snag.Entry.Direction)
            .Concat(filter.Direction is { } direction ? [direction] : []), request.Cancelled);
        var regions = request.Caller.Stores.Contains(Caller.AnyStore)
            ? await StreamNames.OfRegions(session, request.Cancelled) : new Dictionary<string, string>();
        var sections = new List<SnagsPage.Section>();
        foreach (var (heading, all, part) in shown.Where(part => part.Shown.Count > 0))
        {
            var entries = (await ListSnags.WithTexts(session, part, request.Cancelled)).Zip(part, (entry, snag) =>
                Entry(entry, snag, stores.GetValueOrDefault(entry.Store, entry.Store),
                    directions.GetValueOrDefault(entry.Direction, entry.Direction)));
            sections.Add(new(heading.Kind ?? SnagFilter.Fixed, heading.Name, heading.Note, [.. entries],
                Next(filter, page, heading.Kind, all.Count)));
        }
        return await request.Page<SnagsPage, SnagsPage.Ledger>(new(
            request.Caller.Tenant, request.Caller.Role, [.. Sentences(found, filter)])
        {
            Filters =
            [
                new("direction", "Direction", "every direction", FilterChoice.Of(directions, filter.Direction)),
                new(WeekScan.RegionFilter.Name, "Region", "every region", FilterChoice.Of(regions, filter.Region)),
                new(WeekScan.StoreFilter.Name, "Store", "every store", FilterChoice.Of(stores, filter.Store)),
                new("owner", "Owner", "anybody", FilterChoice.Of(SnagFilter.Owners,
                    filter.Owner is { } owner ? SnagWords.OwnerValue(owner) : null)),
                new("state", "State", "open", [new(SnagFilter.Fixed, "put right", filter.IsFixed)]),
                new("show", "Show", "everything", FilterChoice.Of(SnagFilter.Kinds, filter.Kind)),
            ],
            Sections = sections,
            Further = last is null ? null : page.Next(ListSnags.Path, last, filter.Parts),
        });
    }

    /// <param name="Kind">Null: all kinds together.</param>
    private sealed record Heading(bool IsFixed, string? Kind, string Name, string Note);

    private static IReadOnlyList<Heading> Headings { get; } =
    [
        new(false, SnagFilter.Hazard, "Somebody could be hurt", "No week is accepted before these are put right."),
        new(false, SnagFilter.Late, "Past their day", "The longest past stands first."),
        new(false, SnagFilter.Others, "Open", "The next day stands first."),
        new(true, null, "Put right", "The one found last stands first."),
    ];

    private static List<FoundSnag> InOrder(IReadOnlyList<FoundSnag> found, string? kind) =>
    [
        .. kind switch
        {
            null => found.OrderByDescending(snag => snag.Entry.RaisedAt.ToInstant()),
            SnagFilter.Hazard => found.Where(snag => snag.Kind == kind).OrderBy(snag => snag.Entry.RaisedAt.ToInstant()),
            _ => found.Where(snag => snag.Kind == kind).OrderBy(snag => snag.Entry.Due),
        },
    ];

    private static IEnumerable<string> Sentences(IReadOnlyList<FoundSnag> found, SnagFilter filter)
    {
        var stores = LedgerSentences.Count(found.Select(snag => snag.Entry.Store).Distinct().Count(), "store", "stores");
        if (filter.IsFixed)
        {
            yield return found.Count == 0 ? "No snag is put right yet."
                : $"{LedgerSentences.Count(found.Count, "snag is", "snags are")} put right, in {stores}.";
            yield break;
        }
        if (found.Count == 0)
        {
            yield return "No such snag is open.";
            yield break;
        }
        yield return $"{LedgerSentences.Count(found.Count, "snag is", "snags are")} open, in {stores}.";
        var hazards = found.Count(snag => snag.Kind == SnagFilter.Hazard);
        var late = found.Count(snag => snag.Kind == SnagFilter.Late);
        if (hazards > 0) yield return $"Somebody could be hurt by {Number(hazards)} of them.";
        if (late > 0) yield return $"{Number(late)} {(late == 1 ? "is" : "are")} past {(late == 1 ? "its" : "their")} day.";
    }

    private static SnagsPage.Entry Entry(ListSnags.SnagEntry entry, FoundSnag snag, string store, string direction) => new(
        $"snag-{entry.Week}-{entry.Number}", store, $"/weeks/{entry.Week}/snags",
        entry.What ?? "What is wrong was erased", $"/weeks/{entry.Week}/snags/{entry.Number}",
        $"{entry.Where}. {(entry.Accepted ? "The lead has accepted it as it is. " : "")}"
            + $"{OwnerOf(snag.Owner)}, by {SnagWords.Day(entry.Due)}.",
        $"{direction}, snag {entry.Number}. {AgeOf(entry.AgeDays)}");

    /// <summary>Nobody is named: head office and a region read from outside the store.</summary>
    private static string OwnerOf(SnagOwner owner)
    {
        var name = owner.Trade ?? SnagFilter.Owners[SnagWords.OwnerValue(owner.Kind)];
        return $"{char.ToUpperInvariant(name[0])}{name[1..]}";
    }

    private static string AgeOf(int days) => days switch
    {
        0 => "Found today.",
        1 => "1 day old.",
        _ => $"{Number(days)} days old.",
    };

    private static MoreLink? Next(SnagFilter filter, ListPage page, string? kind, int count)
    {
        var next = filter.Skip + MostEntries;
        if (count <= next) return null;
        (string Name, string? Value)[] parts =
        [
            .. filter.Parts.Where(part => part.Name != "show"), ("show", kind ?? filter.Kind), ("skip", Number(next)),
        ];
        return new($"The next {Math.Min(MostEntries, count - next)} of {Number(count)}",
            page.Next(ListSnags.Path, page.After, parts));
    }

    private static string Number(int number) => number.ToString("N0", CultureInfo.InvariantCulture);
}
