using Marten;
using NodaTime;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Lists;
using SetWeek.Service.Pages;
using SetWeek.Service.Storage;
using SetWeek.Service.Words;

namespace SetWeek.Service.Weeks;

/// <summary>
/// Where a reader goes on from the start page: a lead to the weeks of the stores, the crew to tonight, head office and a region
/// to the stores.
/// </summary>
internal static class StartWays
{
    /// <summary>Weeks looked at, and weeks shown: those that are launched last come first.</summary>
    private const int MostRead = 60, MostShown = 12;

    public static async Task<StartPage.Start> Add(
        StartPage.Start start, Caller caller, IDocumentStore store, Instant now, CancellationToken cancelled)
    {
        if (caller.Role is Role.HeadOffice or Role.Region)
            return start with
            {
                Ways =
                [
                    new("Stores", "/stores", ": how far each of them is, and what needs you"),
                    new("Directions", "/directions", ": what is set, display by display"),
                    new("Snags", "/snags", ": what is not put right, where somebody could be hurt first"),
                    new("Memos", "/memos", ": what head office has written to the stores, and who has read it"),
                ],
            };
        await using var session = store.QuerySession(caller.Tenant);
        var weeks = await StreamList.Weeks(
            session, caller.MayAccess(Caller.AnyStore) ? null : caller.Stores, "", MostRead, cancelled);
        var (summaries, _) = await Streams.Summaries(session, weeks, cancelled);
        var ways = new List<StartPage.Way>();
        string? reader = null;
        foreach (var summary in summaries.OrderByDescending(week => week.Launch).ThenBy(week => week.Id, StringComparer.Ordinal)
            .Take(MostShown))
        {
            if ((await Streams.Week(session, summary.Id, cancelled)).State is not { } week) continue;
            reader ??= (await session.CrewOf(week.Id, cancelled)).Find(caller.Person)?.Name;
            ways.Add(new($"{await session.TitleOf(week, cancelled)}{(caller.Role == Role.Crew ? ", tonight" : "")}",
                caller.Role == Role.Crew ? $"/weeks/{week.Id}/tonight" : $"/weeks/{week.Id}/plan",
                $": {StageOf(summary.Stage)}; everything is ready by {IssueSentences.DayAndTime(summary.Launch)}"
                    + (StoreTime.InstantOf(week, summary.Launch) < now ? ", which is past" : "")));
        }
        if (caller.Role == Role.Engineer) ways.Add(new("Feed", "/feed", ": what has happened in the chain"));
        return start with { Ways = ways, NewWeeks = await NewWeeksOf(session, caller, cancelled), Reader = reader };
    }

    /// <summary>The stores in which a lead may open a week.</summary>
    private static async Task<IReadOnlyList<StartPage.Way>> NewWeeksOf(
        IQuerySession session, Caller caller, CancellationToken cancelled) => !caller.HasRole(ReadWeekForm.Operation.MayUse) ? []
        : [.. (await StreamNames.OfStores(session, caller.Stores, cancelled))
            .OrderBy(store => store.Value, StringComparer.Ordinal)
            .Take(MostShown)
            .Select(store => new StartPage.Way($"Open a week in {store.Value}", $"/stores/{store.Key}/new-week", ""))];

    private static string StageOf(WeekStage stage) => stage switch
    {
        WeekStage.Unplanned => "no plan is published yet",
        WeekStage.Published => "its plan is published",
        WeekStage.Begun => "its work has begun",
        WeekStage.Done => "its work is done",
    };
}
