using Marten;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;

namespace SetWeek.Service.Questions;

public sealed class ReadQuestions : IQuery
{
    private const string Open = "open", Answered = "answered", Lead = "lead", HeadOffice = "headOffice";

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
                [new(200, "The questions of the stores that the caller reaches; follow the Link with rel=next", typeof(View))
                    { HasLink = true }],
        };

    public static Task<Answer> Handle(Request request, IQuerySession session) => ListPage.Of(request).Match(async page =>
    {
        var (asked, state) = (request.Query("for"), request.Query("state"));
        if (asked is not (null or Lead or HeadOffice))
            return Refused.With(400, $"The filter for must be {Lead} or {HeadOffice}.", "no-addressee");
        if (state is not (null or Open or Answered))
            return Refused.With(400, $"The filter state must be {Open} or {Answered}.", "no-state");
        if (IdFilters.FirstOrDefault(name => request.Query(name) is { } id && !Ids.IsId(id)) is { } wrong)
            return Refused.With(400, $"The filter {wrong} must be an id.", "no-id");

        var filter = new StoredQuestion.Filter(request.Query("direction"), request.Query("store"),
            asked is null ? null : asked == Lead ? Addressee.Lead : Addressee.HeadOffice,
            state is null ? null : state == Answered, ToAll: null,
            request.Caller.Stores.Contains(Caller.AnyStore) ? null : request.Caller.Stores);
        var found = await StoredQuestion.Read(session, filter, page.After, page.Limit + 1, request.Cancelled);
        var shown = await QuestionView.Of(session, [.. found.Take(page.Limit).Select(row => row.Question)], request.Cancelled);
        return page.Answer("/questions", new View(shown), found.Count > page.Limit ? found[page.Limit - 1].Key : null,
            ("for", asked), ("state", state), ("direction", filter.Direction), ("store", filter.Store));
    }, Task.FromResult);
}
