using Marten;
using SetWeek.Domain.Revisions;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Revisions;

public sealed class SetEquipment : ICommand
{
    private sealed record Body(int Count);

    public static Operation Operation => new("PUT", "/weeks/{id}/equipment/{item}", "setEquipment",
        "Sets how many pieces of a kind of equipment the store can use; 0 if all are out of order")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        Body = new(typeof(Body), """{"count": 1}"""),
        IfMatch = true,
        Replies = [new(204, "The number is set for this week")],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session) =>
        request.Read(json => new Equipment(request["item"], json.Int("count", 0, WeekLimits.Pieces))).Match(
            item => request.Edit(session, week => week.With(item), (wanted, faults) => RevisionAnswers.Faults(faults,
                (RevisionAnswers.PointerOf("/store/equipment", wanted.Store.Equipment, other => other.Id == item.Id), ""))),
            faults => Task.FromResult(Refused.For(faults)));
}
