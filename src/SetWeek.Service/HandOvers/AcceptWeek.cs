using Marten;
using SetWeek.Domain.HandOvers;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.HandOvers;

public sealed class AcceptWeek : ICommand
{
    private sealed record Body(string Name, string? Morning, IReadOnlyList<string>? Photos);

    public static Operation Operation => new("POST", "/weeks/{id}/hand-over", "acceptWeek",
        "Records that somebody of the store accepts the finished week, with what is open. Refused while somebody could be hurt")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead),
        IfMatch = true,
        Photos = PhotoUse.InForm,
        Body = new(typeof(Body), """
            {"name": "Hester Vane, runs the store", "morning": "Window strings are on the left switch behind the panel.",
             "photos": ["phone-3.p9"]}
            """),
        Replies = [new(204, "The week is handed over; the name and the note for the morning can be erased")],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session) =>
        request.Read(json => new Body(
            json.Text("name"), json.OptionalText("morning", longest: 2000), PhotoIds.Read(json))).Match(async body =>
        {
            var stream = await Streams.Week(session, request.Id, request.Cancelled);
            if (stream.State is not { } week) return Refused.Missing("week", request.Id);
            if (!stream.IsCurrent(request.Version)) return Refused.Stale(stream.Version);
            return week.HandOver(request.Caller.Person, request.Now, body.Photos).Match(accepted =>
            {
                var ids = HandOverDecisions.NotesOf(week.Id, accepted.HandOver);
                session.Store(new Note(ids.Name, body.Name));
                if (body.Morning is { } morning) session.Store(new Note(ids.Morning, morning));
                return Answer.NoContent.WithVersion(stream.Append(session, accepted));
            }, Refused.For);
        }, faults => Task.FromResult(Refused.For(faults)));
}
