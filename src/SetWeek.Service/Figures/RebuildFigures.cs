using Marten;
using SetWeek.Service.Access;
using SetWeek.Service.Following;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Figures;

public sealed class RebuildFigures : ICommand
{
    public static Operation Operation =>
        new("POST", "/figures/rebuild", "rebuildFigures", "Deletes the figures of the chain and computes them again")
        {
            MayUse = new Permission(AccessScope.Chain, Role.Engineer),
            Replies = [new(202, "The follower begins at the first event; /followers shows how far it is")],
        };

    public static Task<Answer> Handle(Request request, IDocumentSession session)
    {
        FollowerPlaces.Store(session, FiguresFollower.FollowerName, 0);
        session.QueueSqlCommand("delete from setweek.figures where tenant_id = ?", request.Caller.Tenant);
        return Task.FromResult(new Answer(202) { Location = "/followers" });
    }
}
