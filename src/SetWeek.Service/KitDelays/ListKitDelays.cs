using Marten;
using NodaTime;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Kits;
using SetWeek.Service.Access;
using SetWeek.Service.Figures;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;
using SetWeek.Service.Pages.HeadOffice;
using SetWeek.Service.Storage;
using SetWeek.Service.Words;

namespace SetWeek.Service.KitDelays;

public sealed class ListKitDelays : IQuery
{
    private const string Path = "/kit-delays";

    /// <summary>Directions to choose from on the page.</summary>
    private const int MostDirections = 50;

    private static readonly QueryParameter DirectionFilter = new("direction",
        "Only those that were reported for this direction; on the page with a form to report one", "first-rain");

    public sealed record View(IReadOnlyList<DelayView> Delays);

    /// <param name="Direction">Absent if weeks were listed instead; so is the kit.</param>
    /// <param name="Eta">The new arrival time, local to each store; absent if unknown.</param>
    /// <param name="Cancelled">For all stores that the caller has access to.</param>
    public sealed record DelayView(string Id, Instant Asked, string? Direction, string? Kit, LocalDateTime? Eta,
        AutoPublish AutoPublish, bool Cancelled);

    public static Operation Operation => new("GET", Path, "listKitDelays",
        "Lists the kits that head office has reported late for many stores, the latest first")
    {
        MayUse = new Permission(AccessScope.Chain, Role.HeadOffice),
        Query = [DirectionFilter, .. ListPage.Query],
        Replies =
        [
            new(200, "The delays, each with a report of its own; follow the Link with rel=next", typeof(View)) { HasLink = true },
            Reply.Page("The same as a page, with a form to report one"),
        ],
    };

    public static Task<Answer> Handle(Request request, IQuerySession session) => ListPage.Of(request).Match(async page =>
    {
        var direction = request.Filter(DirectionFilter.Name);
        if (direction is not null && !Ids.IsId(direction))
            return Refused.With(400, "The filter direction must be an id.", "no-id");
        var (latest, last) = page.Cut(await Latest(session, direction, page, request.Cancelled), delay => delay.Id);
        var delays = await Reached(request, session, latest);
        return request.WantsPage
            ? await Page(request, session, direction, delays,
                last is null ? null : page.Next(Path, last, (DirectionFilter.Name, direction)))
            : page.Answer(Path, new View([.. delays.Select(delay => new DelayView(delay.Id, delay.Asked, delay.Direction,
                delay.Kit, delay.Eta, delay.AutoPublish, KitDelayItems.IsCancelled(request.Caller, delay)))]), last,
                (DirectionFilter.Name, direction));
    }, Task.FromResult);

    /// <summary>Ids begin with the time, so that they sort by age.</summary>
    private static async Task<IReadOnlyList<KitDelay>> Latest(
        IQuerySession session, string? direction, ListPage page, CancellationToken cancelled)
    {
        IQueryable<KitDelay> all = session.Query<KitDelay>();
        if (direction is not null) all = all.Where(delay => delay.Direction == direction);
        if (page.After.Length > 0) all = all.Where(delay => delay.Id.CompareTo(page.After) < 0);
        return await all.OrderByDescending(delay => delay.Id).Take(page.ReadLimit).ToListAsync(cancelled);
    }

    /// <summary>Those that the caller may know of. Only somebody who reaches some stores alone costs a query for each.</summary>
    private static async Task<IReadOnlyList<KitDelay>> Reached(
        Request request, IQuerySession session, IReadOnlyList<KitDelay> delays)
    {
        var reached = new List<KitDelay>();
        foreach (var delay in delays)
            if (KitDelayItems.MayRead(request.Caller, delay, weeks: 0)
                || (await new KitDelayItems(session, delay.Id, request.Caller, request.Cancelled).After("", 1)).Count > 0)
                reached.Add(delay);
        return reached;
    }

    private static async Task<Answer> Page(
        Request request, IQuerySession session, string? direction, IReadOnlyList<KitDelay> delays, string? next)
    {
        var token = request.FormToken();
        var choices = token is null ? []
            : await StreamList.Ids(session, "direction", null, "", MostDirections, request.Cancelled);
        var names = await StreamNames.OfDirections(session, choices, request.Cancelled);
        var chosen = direction ?? (choices is [var only] ? only : null);
        var directions = new Dictionary<string, Direction>();
        foreach (var id in delays.Select(delay => delay.Direction).Append(chosen).OfType<string>().Distinct())
            if ((await Streams.Direction(session, id, request.Cancelled)).State is { } known) directions[id] = known;
        var asked = directions.GetValueOrDefault(chosen ?? "");
        return await request.Page<KitDelaysPage, KitDelaysPage.Content>(new(request.Caller.Tenant,
            request.Caller.Role,
            [
                .. delays.Select(delay => new KitDelaysPage.Listed(
                    KitDelaySentences.Name(delay, directions.GetValueOrDefault(delay.Direction ?? "")), $"{Path}/{delay.Id}",
                    KitDelaySentences.Expected(delay.Eta), KitDelayItems.IsCancelled(request.Caller, delay),
                    $"Reported {LedgerSentences.At(delay.Asked.InUtc().LocalDateTime)} (UTC).")),
            ],
            [.. choices.Select(id => (id, names.GetValueOrDefault(id, id)))], next,
            token is null || asked is null ? null : new(token, request.PlanIds.Next(request.SystemTime), asked.Id, asked.Name,
                [.. asked.Kits.Select(kit => (kit.Id, kit.Name))], await DirectionStores.Of(session, request, asked.Id))));
    }
}
