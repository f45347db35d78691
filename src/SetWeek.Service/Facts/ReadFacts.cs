using Marten;
using SetWeek.Domain.Sentences;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Facts;
using SetWeek.Service.Plans;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Facts;

public sealed class ReadFacts : IQuery
{
    private const int MostLately = 8;

    public static Operation Operation => new("GET", "/weeks/{id}/facts", "readFacts",
        "The page that lists what can change in an open week, with its forms")
    {
        MayUse = FactPages.MayUse,
        Replies = [Reply.Page("The page; programs use the operations that its forms are sent to")],
        Refusals = [406],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session) =>
        await (await FactPages.Read(request, session)).Match(async week =>
        {
            var direction = await Streams.Direction(session, week.Forms.State.Direction, request.Cancelled);
            var last = await session.Events.FetchStreamAsync(
                week.Stream.Id, fromVersion: Math.Max(1, week.Stream.Version - MostLately + 1), token: request.Cancelled);
            return await request.Page<FactsPage, FactsPage.Facts>(new(week.Forms,
                [.. last.Select(e => e.Data).OfType<IWeekEvent>().Reverse()
                    .Select(e => EventSentences.Of(week.Forms.State, week.Forms.Crew, e))],
                direction.Version > week.Forms.State.DirectionVersion ? direction.Version : null)
            {
                Ask = PlanAnswer.ActsFor(request, week.Forms.State.Id, week.Stream.Version, null),
            });
        }, Task.FromResult);
}
