using System.Globalization;
using Marten;
using SetWeek.Domain.Snags;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Snags;

public sealed class ReadSnag : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/snags/{snag}", "readSnag",
        "Reads a snag of a week with what was done about it")
    {
        MayUse = ReadSnags.Readers,
        Replies = [new(200, "The snag of that number", typeof(SnagView)) { HasETag = true }],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (!int.TryParse(request["snag"], NumberStyles.None, CultureInfo.InvariantCulture, out var number)
            || SnagStatus.Find(week.Snags, number) is not { } snag) return Refused.Missing("snag", request["snag"]);
        return Answer.Ok((await SnagView.Of(request, session, week, [snag]))[0]).WithVersion(stream.Version);
    }
}
