using Marten;
using SetWeek.Domain.Snags;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Snags;

public sealed class ReadSnags : IQuery
{
    public sealed record View(IReadOnlyList<SnagView> Snags);

    /// <summary>Whoever may read the snags of a week.</summary>
    public static Permission Readers => new(AccessScope.Week, Role.Lead, Role.Crew, Role.HeadOffice, Role.Region);

    public static Operation Operation => new("GET", "/weeks/{id}/snags", "readSnags", "Reads the snags of a week")
    {
        MayUse = Readers,
        Replies = [new(200, "The snags by number, those that are put right too", typeof(View)) { HasETag = true }],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        return Answer.Ok(new View(await SnagView.Of(request, session, week, week.AllSnags()))).WithVersion(stream.Version);
    }
}
