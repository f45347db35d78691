using Marten;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Nights;

/// <summary>Says on a page of a week who reads it.</summary>
internal static class PageReader
{
    public static async Task<Frame.Reader> ReaderOf(this IQuerySession session, string week, Request request) =>
        request.ReaderIn(await session.CrewOf(week, request.Cancelled));
}
