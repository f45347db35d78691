using Marten.Events;
using Marten.Services.Json.Transformations.SystemTextJson;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Stores;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Domain.Weeks.Events.Snags;
using SetWeek.Domain.Weeks.Notifications;

namespace SetWeek.Service.Storage;

/// <summary>
/// The name under which each event is stored. A name never changes and is never reused; types may be renamed freely. Under one
/// name only optional fields are added. Any other change gives the event the name "NAME.v2", and the form of the old name is
/// read by an entry in <see cref="Older"/> for ever.
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
        [typeof(NightSet)] = "night-set",
        [typeof(NightDropped)] = "night-dropped",
        [typeof(LaunchMoved)] = "launch-moved",
        [typeof(RulesSet)] = "rules-set",
        [typeof(GoalsSet)] = "goals-set",
        [typeof(ZoneSet)] = "zone-set",
        [typeof(EquipmentSet)] = "equipment-set",
        [typeof(DisplaySet)] = "display-set",
        [typeof(DisplayDropped)] = "display-dropped",
        [typeof(DisplayChoiceSet)] = "display-choice-set",
        [typeof(KitSet)] = "kit-set",
        [typeof(KitDropped)] = "kit-dropped",
        [typeof(TasksRevised)] = "tasks-revised",
        [typeof(Pinned)] = "pinned",
        [typeof(Unpinned)] = "unpinned",
        [typeof(KitExpected)] = "kit-expected",
        [typeof(KitDelayed)] = "kit-delayed",
        [typeof(KitArrived)] = "kit-arrived",
        [typeof(KitCounted)] = "kit-counted",
        [typeof(KitLineSettled)] = "kit-line-settled",
        [typeof(PlanPublished)] = "plan-published",
        [typeof(PlanBroken)] = "plan-broken",
        [typeof(PlanHoldsAgain)] = "plan-holds-again",
        [typeof(WorkStarted)] = "work-started",
        [typeof(WorkFinished)] = "work-finished",
        [typeof(ChecksFailed)] = "checks-failed",
        [typeof(WorkBlocked)] = "work-blocked",
        [typeof(WorkReopened)] = "work-reopened",
        [typeof(WorkProgressed)] = "work-progressed",
        [typeof(WorkPaused)] = "work-paused",
        [typeof(WorkResumed)] = "work-resumed",
        [typeof(WorkStopped)] = "work-stopped",
        [typeof(StopLifted)] = "stop-lifted",
        [typeof(ReportRetracted)] = "report-retracted",
        [typeof(AbsenceRetracted)] = "absence-retracted",
        [typeof(KitLineUnsettled)] = "kit-line-unsettled",
        [typeof(CleanDownStarted)] = "clean-down-started",
        [typeof(CleanDownFinished)] = "clean-down-finished",
        [typeof(QuestionAsked)] = "question-asked",
        [typeof(QuestionAnswered)] = "question-answered",
        [typeof(MemoRead)] = "memo-read",
        [typeof(NightOpened)] = "night-opened",
        [typeof(PersonCame)] = "person-came",
        [typeof(PersonLeft)] = "person-left",
        [typeof(NightClosed)] = "night-closed",
        [typeof(AreaLookedAt)] = "area-looked-at",
        [typeof(DisplayShown)] = "display-shown",
        [typeof(WeekHandedOver)] = "week-handed-over",
        [typeof(HandOverWithdrawn)] = "hand-over-withdrawn",
        [typeof(SnagRaised)] = "snag-raised",
        [typeof(SnagFixed)] = "snag-fixed",
        [typeof(SnagReopened)] = "snag-reopened",
        [typeof(SnagHandedOn)] = "snag-handed-on",
        [typeof(SnagAcceptedOpen)] = "snag-accepted-open",
        [typeof(PersonTold)] = "person-told",
        [typeof(TellingRetracted)] = "telling-retracted",
        [typeof(ChangesSeen)] = "changes-seen",
        [typeof(ChangesAnswered)] = "changes-answered",
    };

    /// <summary>By the name under which it is written no more: how a stored form is read.</summary>
    public static IReadOnlyDictionary<string, OlderForm> Older { get; } = new Dictionary<string, OlderForm>();

    /// <summary>Tells the event store the names of the events, and how older forms are read.</summary>
    public static void Map(
        IEventStoreOptions events, IReadOnlyDictionary<Type, string> names, IReadOnlyDictionary<string, OlderForm> older)
    {
        foreach (var (type, name) in names) events.MapEventType(type, name);
        foreach (var (name, form) in older)
            events.Upcast(form.Event, name, JsonTransformations.Upcast(form.Read));
    }
}
