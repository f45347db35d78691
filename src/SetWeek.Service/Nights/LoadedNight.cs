using Marten;
using OneOf;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Notifications;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Nights.Pieces;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Nights;

/// <summary>A night of a published plan, read for a query.</summary>
/// <param name="Whole">The sheet of all people.</param>
internal sealed record LoadedNight(FoldedStream<StoreWeek> Stream, CrewFile Crew, NightSheet Sheet, NightSheet Whole)
{
    public StoreWeek Week => Stream.State!;

    /// <param name="person">The id of a person to whose pieces the sheet is narrowed; null: all pieces.</param>
    public static async Task<OneOf<LoadedNight, Answer>> Of(Request request, IQuerySession session, string? person = null)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (week.Week.Nights.FirstOrDefault(night => night.Id == request["night"]) is not { } night)
            return Refused.Missing("night", request["night"]);
        if (week.Published is null)
            return Refused.With(404, "No plan of this week is published yet.", "nothing-published");
        if (person is not null && !week.Crew.Contains(person)) return Refused.Missing("person", person);
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        var margins = await session.MarginsOf(stream, night.Id, crew, request.Cancelled);
        var direction = await session.DirectionOf(week, request.Cancelled);
        var whole = NightSheets.Of(week, crew, night, margins, request.Now, direction: direction);
        var sheet = person is null ? whole : NightSheets.Of(week, crew, night, margins, request.Now, person, direction);
        // Only the store reads who was shown what.
        return request.Caller.Role is Role.Lead or Role.Crew ? new LoadedNight(stream, crew, sheet, whole)
            : new LoadedNight(stream, crew, sheet.WithoutShowings(), whole.WithoutShowings());
    }

    /// <summary>The night for a page: who reads it, and what that person may do.</summary>
    public async Task<NightView> View(Request request, IQuerySession session) => new(
        await session.TitleOf(Week, request.Cancelled), Week.Id, Week.Direction, Sheet, Whole,
        request.ReaderIn(Crew),
        request.Caller.Role, request.Caller.Person, request.FormToken(), () => request.PlanIds.Next(request.SystemTime))
    {
        IssueToAnswer = request.Caller.Role is Role.Crew or Role.Lead ? Week.IssueToAnswer(request.Caller.Person) : null,
        Zones = [.. Week.Week.Store.Zones.Select(zone => (zone.Id, zone.Name))],
        HasOwnNight = request.Caller.Role == Role.Crew && Week.Crew.Contains(request.Caller.Person),
    };
}
