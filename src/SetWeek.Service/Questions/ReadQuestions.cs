using Marten;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;
using SetWeek.Service.Pages.Questions;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Questions;

public sealed class ReadQuestions : IQuery
{
    private const string Open = "open", Answered = "answered", Lead = "lead", HeadOffice = "headOffice";

    /// <summary>Directions to choose from on the page.</summary>
    private const int MostDirections = 50;

    private static readonly string[] IdFilters = ["direction", "store"];

    public sealed record View(IReadOnlyList<QuestionView> Questions);

    public static Operation Operation =>
        new("GET", "/questions", "readQuestions", "Reads the questions of the chain, in the order in which they were asked")
        {
            MayUse = new Permission(AccessScope.Chain, Role.HeadOffice, Role.Lead, Role.Region),
            Query =
            [
                new("for", "Only those for lead or headOffice", "headOffice"),
                new("state", "Only open or answered ones", Open),
                new("direction", "Only weeks of this direction", "first-rain"),
                new("store", "Only weeks of this store", "harbour-street"),
                .. ListPage.Query,
            ],
            Replies =
            [
                new(200, "The questions of the stores that the caller reaches, as JSON or as a page (Accept: text/html); follow "
                    + "the Link with rel=next", typeof(View)) { HasLink = true },
                Reply.Page("What waits, or with state=answered what is answered, with forms to answer"),
            ],
        };

    public static Task<Answer> Handle(Request request, IQuerySession session) => ListPage.Of(request).Match(async page =>
    {
        var isPage = request.WantsPage;
        var (asked, state) = (request.Filter("for"), request.Filter("state") ?? (isPage ? Open : null));
        if (asked is not (null or Lead or HeadOffice))
            return Refused.With(400, $"The filter for must be {Lead} or {HeadOffice}.", "no-addressee");
        if (state is not (null or Open or Answered))
            return Refused.With(400, $"The filter state must be {Open} or {Answered}.", "no-state");
        if (IdFilters.FirstOrDefault(name => request.Filter(name) is { } id && !Ids.IsId(id)) is { } wrong)
            return Refused.With(400, $"The filter {wrong} must be an id.", "no-id");

        var filter = new StoredQuestion.Filter(request.Filter("direction"), request.Filter("store"),
            asked is null ? null : asked == Lead ? Addressee.Lead : Addressee.HeadOffice,
            state is null ? null : state == Answered, ToAll: null,
            request.Caller.Stores.Contains(Caller.AnyStore) ? null : request.Caller.Stores);
        var (rows, last) = page.Cut(
            await StoredQuestion.Read(session, filter, page.After, page.ReadLimit, request.Cancelled), row => row.Key);
        IReadOnlyList<StoredQuestion> listed = [.. rows.Select(row => row.Question)];
        (string, string?)[] filters =
            [("for", asked), ("state", state), ("direction", filter.Direction), ("store", filter.Store)];
        return isPage
            ? await Page(request, session, filter, asked, listed,
                last is null ? null : page.Next("/questions", last, filters))
            : page.Answer("/questions", new View(await QuestionView.Of(session, listed, request.Cancelled)), last, filters);
    }, Task.FromResult);

    private static async Task<Answer> Page(Request request, IQuerySession session, StoredQuestion.Filter filter, string? asked,
        IReadOnlyList<StoredQuestion> listed, string? next)
    {
        var directions = await StreamNames.OfDirections(session,
            await StreamList.Ids(session, "direction", null, "", MostDirections, request.Cancelled), request.Cancelled);
        var shown = await ShownQuestions.Of(session, request, listed, "/questions");
        var token = filter.IsAnswered == false && (shown.Count > 1 || request.Context.Refusal is not null)
            && request.Caller.HasRole(AnswerQuestions.Operation.MayUse)
            ? request.FormToken() : null;
        var chosen = request.Context.Refusal?.Typed.GetValueOrDefault("questions:list") ?? [];
        return await request.Page<QuestionsPage, QuestionsPage.Content>(new(request.Caller.Tenant,
            request.Caller.Role, filter.IsAnswered == true, asked, filter.Direction, filter.Store,
            [.. directions.Select(direction => new QuestionsPage.ListedDirection(direction.Key, direction.Value))],
            token is null ? shown : [.. shown.Zip(listed, (question, stored) => question with
            {
                Together = AnswerQuestions.AddressOf(stored) is var address ? new(address, chosen.Contains(address)) : null,
            })], next)
        {
            Together = token is null ? null : new(token, request.PlanIds.Next(request.SystemTime)),
        });
    }
}
