using Marten;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Nights;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Kits;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Kits;

/// <summary>What all pages of kits show.</summary>
internal static class KitPages
{
    /// <summary>The crew, for a reader in the store: who counted is said there alone. Null for others.</summary>
    public static async Task<CrewFile?> CountersFor(IQuerySession session, StoreWeek week, Request request) =>
        request.Caller.Role is Role.Lead or Role.Crew ? await session.CrewOf(week.Id, request.Cancelled) : null;

    public static async Task<KitWeek> WeekOf(IQuerySession session, StoreWeek week, Request request) => new(
        week.Id, await session.TitleOf(week, request.Cancelled), week.Week.Store.TimeZone,
        StoreTime.Local(week, request.Now), WeekLinks.Of(week.Id, week.Direction, request.Caller.Role, "Kits"),
        await session.ReaderOf(week.Id, request));
}
