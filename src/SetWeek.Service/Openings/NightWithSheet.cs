using Marten;
using OneOf;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Nights;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Nights;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Openings;

/// <summary>A night of a week whose plan is published, with its sheet of all people.</summary>
internal sealed record NightWithSheet(FoldedStream<StoreWeek> Stream, CrewFile Crew, NightSheet Sheet)
{
    public StoreWeek Week => Stream.State!;

    /// <summary>Loads the night of the route.</summary>
    public static async Task<OneOf<NightWithSheet, Answer>> Of(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (week.Week.Nights.FirstOrDefault(night => night.Id == request["night"]) is not { } night)
            return Refused.Missing("night", request["night"]);
        if (week.Published is null)
            return Refused.With(404, "No plan of this week is published yet.", "nothing-published");
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        var margins = await session.MarginsOf(stream, night.Id, crew, request.Cancelled);
        return new NightWithSheet(stream, crew, NightSheets.Of(week, crew, night, margins, request.Now));
    }
}
