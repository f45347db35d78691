using Marten;
using SetWeek.Domain.Kits;

namespace SetWeek.Service.KitDelays;

/// <summary>Ends one week of a batch after a fault of ours, so that the others go on and the report says so.</summary>
internal static class WeekFailures
{
    public static async Task Fail(
        IDocumentStore store, string tenant, KitDelayWeek item, Exception error, ILoggerFactory logs, CancellationToken stop)
    {
        logs.CreateLogger("SetWeek.KitDelays")
            .LogError(error, "The kit delay {Batch} failed in {Week} of {Tenant}", item.Batch, item.Week, tenant);
        await using var session = store.LightweightSession(tenant);
        if (await session.LoadAsync<KitDelayWeek>(item.Id, stop) is not { IsOpen: true } open) return;
        session.Store(open with
        {
            State = KitDelayState.Failed, Reason = "An internal error; the log of the service has it.",
        });
        await session.SaveChangesAsync(stop);
    }
}
