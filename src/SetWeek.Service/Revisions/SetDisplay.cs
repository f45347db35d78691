using Marten;
using SetWeek.Domain.Revisions;
using SetWeek.Model.Files.Shapes;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Revisions;

public sealed class SetDisplay : ICommand
{
    private sealed record Body(string Name, DisplayCommitment Commitment, int? Value, Alternate? Alternate);

    public static Operation Operation =>
        new("PUT", "/weeks/{id}/displays/{display}", "setDisplay",
            "Sets a display's commitment, value and alternate, or adds one")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        Body = new(typeof(Body), """
            {"name": "Cycle panel", "commitment": "want", "value": 30, "alternate": {"display": "wall", "value": 5}}
            """),
        IfMatch = true,
        Replies = [new(204, "The display is set; its tasks are set by themselves")],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session) =>
        request.Read(json => WeekReader.Display(request["display"], json)).Match(
            display => request.Edit(session, week => week.With(display), (wanted, faults) => RevisionAnswers.Faults(faults,
                (RevisionAnswers.PointerOf("/displays", wanted.Displays, other => other.Id == display.Id), ""))),
            faults => Task.FromResult(Refused.For(faults)));
}
