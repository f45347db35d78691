using Marten;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Nights;

/// <summary>Says on a page of a week who reads it.</summary>
internal static class PageReader
{
    /// <summary>The caller by name; by id if the caller is not of the week's crew.</summary>
    public static async Task<Frame.Reader> ReaderOf(this IQuerySession session, string week, Request request) => new(
        (await session.CrewOf(week, request.Cancelled)).Find(request.Caller.Person)?.Name ?? request.Caller.Person,
        request.IsOnSharedPhone);
}
