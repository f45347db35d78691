using SetWeek.Domain.Directions;
using SetWeek.Domain.Stores;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Service.Storage;

/// <summary>
/// The name under which each event is stored. A name never changes and is never reused; types may be renamed freely.
/// </summary>
public static class StoredEvents
{
    public static IReadOnlyDictionary<Type, string> Names { get; } = new Dictionary<Type, string>
    {
        [typeof(StoreOpened)] = "store-opened",
        [typeof(DirectionIssued)] = "direction-issued",
        [typeof(DirectionRevised)] = "direction-revised",
        [typeof(WeekOpened)] = "week-opened",
        [typeof(CrewJoined)] = "crew-joined",
        [typeof(CrewChanged)] = "crew-changed",
        [typeof(PersonAbsent)] = "person-absent",
        [typeof(PersonErased)] = "person-erased",
        [typeof(KitExpected)] = "kit-expected",
        [typeof(KitDelayed)] = "kit-delayed",
        [typeof(KitArrived)] = "kit-arrived",
        [typeof(KitCounted)] = "kit-counted",
        [typeof(KitLineSettled)] = "kit-line-settled",
        [typeof(PlanPublished)] = "plan-published",
        [typeof(WorkStarted)] = "work-started",
        [typeof(WorkFinished)] = "work-finished",
        [typeof(WorkBlocked)] = "work-blocked",
        [typeof(WorkReopened)] = "work-reopened",
        [typeof(CleanDownStarted)] = "clean-down-started",
        [typeof(CleanDownFinished)] = "clean-down-finished",
    };
}
