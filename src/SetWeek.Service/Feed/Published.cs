using JasperFx.Events;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Stores;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Service.Feed;

/// <summary>
/// The public form of a stored event, as it appears in the feed. It is a contract of its own, so that stored events and the
/// feed can change independently. The store, week or direction is the subject of the envelope.
/// </summary>
/// <param name="Type">setweek.NAME.vN; N increases with every incompatible change.</param>
public sealed record Published(string Type, object Data)
{
    /// <returns>Null for an event that is private to the store.</returns>
    public static Published? Of(object stored) => stored switch
    {
        StoreOpened e => new("setweek.store-opened.v1", new { store = e.Store.Id, e.Store.Name, e.Store.TimeZone }),
        DirectionIssued e => new("setweek.direction-issued.v1", Of(e.Direction)),
        DirectionRevised e => new("setweek.direction-revised.v1", Of(e.Direction)),
        WeekOpened e => new("setweek.week-opened.v1", new
        {
            week = e.Week.Id, store = e.Week.Store.Id, e.Direction, e.DirectionVersion, e.Week.Launch,
            nights = e.Week.Nights.Select(night => new { night = night.Id, night.Opens, night.Closes }),
            displays = e.Week.Displays.Select(display => display.Id),
        }),
        PlanPublished e => new("setweek.plan-published.v1", new
        {
            plan = e.PlanId, e.Plan.LeftOut,
            nights = e.Plan.Nights.Where(night => night.Work.Count > 0).Select(night => new
            {
                night.Night, tasks = night.Work.Select(work => work.Task).Where(task => task is not null).Distinct(),
                ends = night.Work.MaxBy(work => work.To.ToInstant())!.To,
            }),
        }),
        KitExpected e => new("setweek.kit-expected.v1", new { e.Kit, eta = (object)e.Eta }),
        KitDelayed e => new("setweek.kit-delayed.v1", new { e.Kit, e.Eta }),
        KitArrived e => new("setweek.kit-arrived.v1", new { e.Kit, e.At }),
        KitCounted e => new("setweek.kit-counted.v1", new { e.Kit, e.At, e.Lines, e.Confirmed }),
        KitLineSettled e => new("setweek.kit-line-settled.v1", new { e.Kit, e.Item }),
        WorkFinished e => new("setweek.work-finished.v1", new { e.Task, e.Stint, e.Night, e.At }),
        WorkBlocked e => new("setweek.work-blocked.v1", new { e.Task, e.Stint, e.At, e.Reason, e.RemainingMinutes, e.Until }),
        WorkReopened e => new("setweek.work-reopened.v1", new { e.Task, e.Stint, e.At }),
        // The event store's placeholder for the sequence number of an append that was rolled back: there is no event.
        Tombstone => null,
        // Personal data and the start of work stay private to the store.
        CrewJoined or CrewChanged or PersonAbsent or PersonErased or WorkStarted or CleanDownStarted or CleanDownFinished => null,
        _ => throw new ArgumentException(
            $"{stored.GetType().Name} has no public form, and is not listed as private.", nameof(stored)),
    };

    private static object Of(Direction direction) => new
    {
        direction = direction.Id, direction.Name, displays = direction.Displays.Select(display => display.Id),
        kits = direction.Kits.Select(kit => kit.Id), tasks = direction.Tasks.Count,
    };
}
