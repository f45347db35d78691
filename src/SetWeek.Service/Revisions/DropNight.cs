using Marten;
using SetWeek.Domain.Revisions;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Revisions;

public sealed class DropNight : ICommand
{
    public static Operation Operation =>
        new("DELETE", "/weeks/{id}/nights/{night}", "dropNight", "Drops a night: nothing is planned in it any more")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        IfMatch = true,
        Replies = [new(204, "The week does not have the night, and what was pinned there is not pinned any more")],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session) =>
        request.Edit(session, week => week.WithoutNight(request["night"]), RevisionAnswers.StillNeeded);
}
