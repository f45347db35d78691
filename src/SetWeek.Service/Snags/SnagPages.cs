using Marten;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Nights;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Snags;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Snags;

/// <summary>What all pages of snags show.</summary>
internal static class SnagPages
{
    public static async Task<SnagWeek> SnagWeekOf(this IQuerySession session, StoreWeek week, Request request) => new(
        week.Id, await session.TitleOf(week, request.Cancelled), week.Week.Store.TimeZone,
        WeekLinks.Of(week.Id, week.Direction, request.Caller.Role, "Snags"), await session.ReaderOf(week.Id, request));

    /// <summary>The people of the week, by id and name.</summary>
    public static async Task<IReadOnlyList<(string Id, string Name)>> PeopleOf(
        this IQuerySession session, StoreWeek week, Request request)
    {
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        return [.. week.Crew.Select(person => (person, crew.Find(person)?.Name ?? person))];
    }
}
