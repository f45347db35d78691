using Marten;
using SetWeek.Domain.Kits;
using SetWeek.Domain.Plans;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Solving;

namespace SetWeek.Service.KitDelays;

public sealed class CancelKitDelay : ICommand
{
    public static Operation Operation => new("POST", "/kit-delays/{id}/cancel", "cancelKitDelay",
        "Cancels what a kit delay has not done yet; recorded delays remain, because they are facts")
    {
        MayUse = new Permission(AccessScope.Chain, Role.HeadOffice),
        Replies = [new(204, "Nothing more is recorded, planned or published; a repeated request changes nothing")],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (await session.LoadAsync<KitDelay>(request.Id, request.Cancelled) is not { } batch)
            return Refused.Missing("kit delay", request.Id);
        var caller = request.Caller;
        var first = await new KitDelayItems(session, batch.Id, caller, request.Cancelled).After("", 1);
        if (!KitDelayItems.MayRead(caller, batch, first.Count)) return Refused.Missing("kit delay", request.Id);
        session.Store(caller.Stores.Contains(Caller.AnyStore) ? batch with { Cancelled = true }
            : batch with { CancelledStores = [.. batch.CancelledStores.Union(caller.Stores)] });
        foreach (var item in (await session.Query<KitDelayWeek>()
            .Where(item => item.Batch == batch.Id
                && (item.State == KitDelayState.Waiting || item.State == KitDelayState.Planning)).ToListAsync(request.Cancelled))
            .Where(item => caller.MayAccess(item.Store)))
        {
            if (item.Plan is { } plan && await session.LoadAsync<CandidatePlan>(plan, request.Cancelled) is { } candidate)
            {
                // A settled plan is about to be taken into the report.
                if (candidate.Settled) continue;
                session.Withdraw(candidate);
            }
            session.Store(item with { State = KitDelayState.Cancelled });
        }
        return Answer.NoContent;
    }
}
