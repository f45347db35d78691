using Marten;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Told;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Notifications;

/// <summary>The answer of a week of which no plan is published yet: a page for people, a refusal for programs.</summary>
internal static class NothingToTell
{
    /// <param name="sentence">What a program is told.</param>
    public static async Task<Answer> Of(Request request, IQuerySession session, StoreWeek week, string sentence)
    {
        if (!request.WantsPage) return Refused.With(404, sentence, "nothing-published");
        var role = request.Caller.Role;
        var reader = (await session.CrewOf(week.Id, request.Cancelled)).Find(request.Caller.Person)?.Name
            ?? request.Caller.Person;
        return await request.Page<NothingToTellPage, NothingToTellPage.Nothing>(new(
            await session.TitleOf(week, request.Cancelled),
            WeekLinks.Of(week.Id, week.Direction, role, WeekLinks.ToldFor(role)), $"/weeks/{week.Id}", week.Week.Store.TimeZone,
            role == Role.Crew, new Frame.Reader(reader, request.IsOnSharedPhone)));
    }
}
