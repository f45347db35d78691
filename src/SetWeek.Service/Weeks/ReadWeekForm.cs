using Marten;
using SetWeek.Domain.Directions;
using SetWeek.Domain.NewWeeks;
using SetWeek.Domain.Stores;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;
using SetWeek.Service.Pages.NewWeeks;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Weeks;

/// <summary>
/// A week is opened in two steps. The first page asks for what the rest follows from, with a form that only reads. The second has
/// the form that <see cref="OpenWeek"/> decides on, filled in from the direction and from the last week of the store.
/// </summary>
public sealed class ReadWeekForm : IQuery
{
    private const int MostDirections = 200;

    public static Operation Operation => new("GET", "/stores/{id}/new-week", "readWeekForm",
        "The pages that open a week in a store: what it follows from, then the form")
    {
        MayUse = new Permission(AccessScope.Store, Role.Lead, Role.HeadOffice),
        Query = NewWeekAnswers.Query,
        Replies = [Reply.Page("The page; programs send the week to openWeek")],
        Refusals = [406, 409],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        if ((await Streams.Store(session, request.Id, request.Cancelled)).State is not { } store)
            return Refused.Missing("store", request.Id);
        if (request.PreferredType("text/html") is null)
            return Refused.With(406, "This is a page, available as text/html. Programs send the week to POST /weeks.");
        var last = await LastWeek(session, store.Id, request.Cancelled);
        var directions = await StreamNames.OfDirections(session,
            await StreamList.Ids(session, "direction", null, "", MostDirections, request.Cancelled), request.Cancelled);
        return await NewWeekAnswers.Of(request, last?.Week, directions).Match(
            answers => Offer(request, session, store, last, answers),
            missing => request.Page<NewWeekPage, NewWeekPage.Questions>(new(store, directions, last?.Week,
                request.Caller.Role == Role.HeadOffice)
            {
                Refusal = missing.Count == 0 ? null : NewWeekAnswers.Again(request, missing),
            }));
    }

    /// <summary>The week of the store that was launched last, or will be.</summary>
    private static async Task<StoreWeek?> LastWeek(IQuerySession session, string store, CancellationToken cancelled)
    {
        var (weeks, _) = await Streams.Summaries(session, await StoreWeeks.Of(session, store, cancelled), cancelled);
        return weeks.MaxBy(week => week.Launch) is { } last ? (await Streams.Week(session, last.Id, cancelled)).State : null;
    }

    private static async Task<Answer> Offer(
        Request request, IQuerySession session, StoreProfile store, StoreWeek? last, NewWeekAnswers answers)
    {
        var direction = (await Streams.Direction(session, answers.Direction, request.Cancelled)).State!;
        if (await FreeId(session, direction.Id, store.Id, request.Cancelled) is not { } id)
            return Refused.With(409,
                $"{direction.Name} has been opened in {store.Name} {NewWeekIds.Most} times, so no id is left "
                + "for another week. A program can open one with an id of its own.");
        var scoped = Scoping.Of(direction, store);
        return await request.Page<OpenWeekPage, OpenWeekPage.Offer>(
            new(id, store, direction, scoped, answers.Launch, answers.Nights, answers.Rules, answers.Sets)
            {
                IsAsLast = answers.IsAsLast,
                Earlier = last?.Week,
                Crew = last is null ? [] : [.. (await session.CrewOf(last.Id, request.Cancelled)).Members
                    .Where(member => last.Crew.Contains(member.Id)).Select(member => (member.Id, member.Name))],
                Acts = request.FormToken() is { } token ? new(token, request.PlanIds.Next(request.SystemTime)) : null,
            });
    }

    private static async Task<string?> FreeId(IQuerySession session, string direction, string store,
        CancellationToken cancelled) =>
        NewWeekIds.FirstFree(direction, store, await StreamList.Ids(
            session, "week", [.. NewWeekIds.Of(direction, store)], "", NewWeekIds.Most, cancelled));
}
