using Marten;
using NodaTime;
using SetWeek.Domain.Revisions;
using SetWeek.Model.Files.Shapes;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Revisions;

public sealed class SetNight : ICommand
{
    private sealed record Body(LocalDateTime Opens, LocalDateTime Closes, IReadOnlyList<Ban>? Bans);

    public static Operation Operation =>
        new("PUT", "/weeks/{id}/nights/{night}", "setNight", "Sets the window and the bans of a night, or adds the night")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        Body = new(typeof(Body), """
            {"opens": "2027-03-08T20:30", "closes": "2027-03-09T01:00",
             "bans": [{"trait": "noisy", "from": "2027-03-08T23:00", "to": "2027-03-09T01:00"}]}
            """),
        IfMatch = true,
        Replies = [new(204, "The night is set; nobody has hours in a new night yet")],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session) =>
        request.Read(json => WeekReader.Night(request["night"], json)).Match(
            night => request.Edit(session, week => week.With(night), (wanted, faults) => RevisionAnswers.Faults(faults,
                (RevisionAnswers.PointerOf("/nights", wanted.Nights, other => other.Id == night.Id), ""))),
            faults => Task.FromResult(Refused.For(faults)));
}
