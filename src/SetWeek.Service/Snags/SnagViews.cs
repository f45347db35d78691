using Marten;
using SetWeek.Domain.Snags;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Snags;

/// <summary>Reads what snags show beside their events: their texts, and the names of people.</summary>
internal static class SnagViews
{
    public static async Task<IReadOnlyList<SnagView>> Of(
        Request request, IQuerySession session, StoreWeek week, IReadOnlyList<SnagStatus> snags)
    {
        var texts = await SnagNotes.Read(session, snags.SelectMany(snag =>
            snag.Acts.Select(act => SnagNotes.IdOf(week.Id, act.Report)).Append(SnagNotes.IdOf(week.Id, snag.Raised.Report))
                .Append(SnagNotes.CauseIdOf(week.Id, snag.Raised.Report))), request.Cancelled);
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        var today = request.Now.InZone(StoreTime.ZoneOf(week)).Date;
        return [.. snags.Select(snag => SnagView.Of(week, crew, new SnagView.Texts(
            report => texts.GetValueOrDefault(SnagNotes.IdOf(week.Id, report)),
            report => texts.GetValueOrDefault(SnagNotes.CauseIdOf(week.Id, report))), today, snag))];
    }
}
