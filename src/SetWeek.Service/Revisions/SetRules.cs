using Marten;
using SetWeek.Model.Files.Shapes;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Revisions;

public sealed class SetRules : ICommand
{
    public static Operation Operation =>
        new("PUT", "/weeks/{id}/rules", "setRules", "Replaces the rules; one that is left out does not apply")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        Body = new(typeof(RuleSet), """
            {"minRestMinutes": 660, "minPeople": 2, "keyholderPresent": true, "company": [{"trait": "ladder", "people": 2}],
             "under18": {"until": "22:00", "barred": ["height"]}}
            """),
        IfMatch = true,
        Replies = [new(204, "The rules are set")],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session) => request.Read(RuleReader.Rules).Match(
        rules => request.Edit(session, week => week with { Rules = rules },
            (_, faults) => RevisionAnswers.Faults(faults, ("/rules", ""))),
        faults => Task.FromResult(Refused.For(faults)));
}
