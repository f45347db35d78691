using Marten;
using OneOf;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Nights;
using SetWeek.Service.Pages.Facts;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Facts;

/// <summary>
/// What the pages with forms have in common. A form is sent to the slice that decides, so that these pages decide nothing.
/// </summary>
internal static class FactPages
{
    /// <param name="Stream">The week as it is now.</param>
    public sealed record Loaded(FoldedStream<StoreWeek> Stream, WeekForms Forms);

    public static Permission MayUse { get; } = new(AccessScope.Week, Role.Lead, Role.HeadOffice);

    public static async Task<OneOf<Loaded, Answer>> Read(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (request.PreferredType("text/html") is null)
            return Refused.With(406, "This is a page, available as text/html. Programs use the operations of its forms.");
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        return new Loaded(stream, new WeekForms(await session.TitleOf(week, request.Cancelled), week, crew,
            PlanningProblem.WithCrew(week with { Absences = [] }, crew), request.Caller.Role)
        {
            Acts = request.FormToken() is { } token
                ? new FormActs(token, $"\"{stream.Version}\"", request.PlanIds.Next(request.SystemTime)) : null,
            Reader = await session.ReaderOf(week.Id, request),
        });
    }

    /// <summary>Those who may use the pages about the crew.</summary>
    public static Permission Leads { get; } = new(AccessScope.Week, Role.Lead);

    public static Task<Answer> LeadOnly(Request request) =>
        Task.FromResult(Refused.OtherRole(Leads, request.Caller));
}
