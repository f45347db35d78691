using Marten;
using NodaTime;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Revisions;

public sealed class MoveLaunch : ICommand
{
    private sealed record Body(LocalDateTime Launch);

    public static Operation Operation => new("PUT", "/weeks/{id}/launch", "moveLaunch", "Moves the launch")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        Body = new(typeof(Body), """{"launch": "2027-03-13T10:00"}"""),
        IfMatch = true,
        Replies = [new(204, "Everything must stand by then")],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session) =>
        request.Read(json => new Body(json.LocalTime("launch"))).Match(
            body => request.Edit(session, week => week with { Launch = body.Launch },
                (_, faults) => RevisionAnswers.Faults(faults, ("/launch", "/launch"))),
            faults => Task.FromResult(Refused.For(faults)));
}
