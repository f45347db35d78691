using JasperFx.Events;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Stores;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Domain.Weeks.Events.Snags;
using SetWeek.Domain.Weeks.Notifications;
using SetWeek.Model.Weeks;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Feed;

/// <summary>
/// The public form of a stored event, as it appears in the feed. It is a contract of its own, so that stored events and the
/// feed can change independently. The store, week or direction is the subject of the envelope. Names that a store may have
/// written, of tasks, displays and kits, are left out.
/// </summary>
/// <param name="Type">setweek.NAME.vN; N increases with every incompatible change.</param>
public sealed record Published(string Type, object Data)
{
    /// <summary>
    /// The events that are private to the store: personal data, pins, which name people, who was told what, and who is in the
    /// store.
    /// </summary>
    private static readonly IReadOnlySet<Type> Private = new HashSet<Type>
    {
        typeof(CrewJoined), typeof(CrewChanged), typeof(PersonAbsent), typeof(AbsenceRetracted), typeof(PersonErased),
        typeof(Pinned), typeof(Unpinned), typeof(PersonTold), typeof(TellingRetracted), typeof(ChangesSeen),
        typeof(ChangesAnswered), typeof(PersonCame), typeof(PersonLeft),
    };

    /// <summary>The stored names of the private events, so that the database can leave them out.</summary>
    public static IReadOnlyList<string> PrivateNames { get; } = [.. Private.Select(type => StoredEvents.Names[type])];

    /// <summary>The note whose text the feed shows with the event: a question for head office, and its answer.</summary>
    /// <param name="week">The id of the week in whose stream the event is.</param>
    /// <returns>The id of the note; null if the event is shown without one.</returns>
    public static string? NoteOf(object stored, string week) => stored switch
    {
        QuestionAsked { For: Addressee.HeadOffice } e => WeekQuestion.TextIdOf(week, e.Question),
        QuestionAnswered e when e.For == Addressee.HeadOffice || e.ToAll => WeekQuestion.AnswerIdOf(week, e.Question),
        _ => null,
    };

    /// <param name="note">The text that the feed shows with the event; null if there is none, or it is erased.</param>
    /// <returns>Null for an event that is private to the store.</returns>
    public static Published? Of(object stored, string? note = null) => stored switch
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
            plan = e.PlanId, e.Issue, e.At, e.Plan.LeftOut,
            nights = e.Plan.Nights.Where(night => night.Work.Count > 0).Select(night => new
            {
                night.Night, tasks = night.Work.Select(work => work.Task).Where(task => task is not null).Distinct(),
                ends = night.Work.MaxBy(work => work.To.ToInstant())!.To,
            }),
        }),
        NightSet e => new("setweek.night-set.v1",
            new { night = e.Night.Id, e.Night.Opens, e.Night.Closes, bans = e.Night.Bans }),
        NightDropped e => new("setweek.night-dropped.v1", new { e.Night }),
        LaunchMoved e => new("setweek.launch-moved.v1", new { e.Launch }),
        RulesSet e => new("setweek.rules-set.v1", new { e.Rules }),
        GoalsSet e => new("setweek.goals-set.v1", new
        {
            goals = e.Goals.Select(Of), replanGoals = e.ReplanGoals.Select(Of), e.Hold,
        }),
        ZoneSet e => new("setweek.zone-set.v1", new { zone = e.Zone.Id, e.Zone.MaxPeople, e.Zone.TradePerDay }),
        EquipmentSet e => new("setweek.equipment-set.v1", new { equipment = e.Equipment.Id, e.Equipment.Count }),
        DisplaySet e => new("setweek.display-set.v1",
            new { display = e.Display.Id, e.Display.Commitment, e.Display.Value, e.Display.Alternate }),
        DisplayDropped e => new("setweek.display-dropped.v1", new { e.Display }),
        DisplayChoiceSet e => new("setweek.display-choice-set.v1", new { e.Display, e.Choice }),
        KitSet e => new("setweek.kit-set.v1", new { e.Kit, e.Lines }),
        KitDropped e => new("setweek.kit-dropped.v1", new { e.Kit }),
        TasksRevised e => new("setweek.tasks-revised.v1", new
        {
            e.Direction, e.Version, e.Memo, e.Kind, set = e.Set.Select(task => new { task = task.Id, task.Display }),
            e.Dropped,
        }),
        KitExpected e => new("setweek.kit-expected.v1", new { e.Kit, eta = (object)e.Eta }),
        KitDelayed e => new("setweek.kit-delayed.v1", new { e.Kit, e.Eta }),
        KitArrived e => new("setweek.kit-arrived.v1", new { e.Report, e.Kit, e.At, e.Corrects }),
        KitCounted e => new("setweek.kit-counted.v1", new { e.Report, e.Kit, e.At, e.Lines, e.Confirmed }),
        KitLineSettled e => new("setweek.kit-line-settled.v1", new { e.Kit, e.Item }),
        PlanBroken e => new("setweek.plan-broken.v1", new { plan = e.PlanId, e.Rule, e.Task, e.Stint, e.CleanDown, e.Night }),
        PlanHoldsAgain e => new("setweek.plan-holds-again.v1", new { plan = e.PlanId }),
        WorkStarted e => new("setweek.work-started.v1", new
        {
            e.Report, e.Task, e.Stint, e.Night, e.At, e.Corrects,
            gates = e.Gates?.Select(gate => new { gate.Gate, gate.Result }),
        }),
        WorkFinished e => new("setweek.work-finished.v1",
            new { e.Report, e.Task, e.Stint, e.Night, e.At, e.Corrects, checks = Of(e.Checks), e.Air, e.Photos }),
        ChecksFailed e => new("setweek.checks-failed.v1",
            new { e.Report, e.Task, e.Stint, e.Night, e.At, e.Corrects, checks = Of(e.Checks), e.Air, e.RemainingMinutes,
                e.Photos }),
        WorkBlocked e => new("setweek.work-blocked.v1",
            new { e.Report, e.Task, e.Stint, e.At, e.Reason, e.RemainingMinutes, e.Until, e.Photos, e.Corrects }),
        WorkReopened e => new("setweek.work-reopened.v1", new { e.Report, e.Task, e.Stint, e.At, e.Corrects }),
        WorkProgressed e => new("setweek.work-progressed.v1",
            new { e.Report, e.Task, e.Stint, e.At, e.RemainingMinutes, e.Done, e.Of, e.Corrects }),
        WorkPaused e => new("setweek.work-paused.v1",
            new { e.Report, e.Task, e.Stint, e.At, e.RemainingMinutes, e.Corrects }),
        WorkResumed e => new("setweek.work-resumed.v1", new { e.Report, e.Task, e.Stint, e.Night, e.At, e.Corrects }),
        WorkStopped e => new("setweek.work-stopped.v1", new { e.Report, e.Night, e.Zone, e.At, e.Corrects }),
        StopLifted e => new("setweek.stop-lifted.v1", new { e.Stop }),
        ReportRetracted e => new("setweek.report-retracted.v1", new { e.Report, e.Retracts, e.At }),
        KitLineUnsettled e => new("setweek.kit-line-unsettled.v1", new { e.Kit, e.Item }),
        CleanDownStarted e => new("setweek.clean-down-started.v1", new { e.Report, e.Zone, e.Night, e.At, e.Corrects }),
        CleanDownFinished e => new("setweek.clean-down-finished.v1", new { e.Report, e.Zone, e.Night, e.At, e.Corrects }),
        QuestionAsked e => new("setweek.question-asked.v1",
            new { e.Question, e.For, e.Task, e.Stint, e.Block, e.At, text = note, e.Display }),
        QuestionAnswered e => new("setweek.question-answered.v1", new { e.Question, e.For, e.ToAll, text = note }),
        MemoRead e => new("setweek.memo-read.v1", new { e.Memo, e.At }),
        NightOpened e => new("setweek.night-opened.v1", new { e.Report, e.Night, e.At, e.Corrects }),
        NightClosed e => new("setweek.night-closed.v1", new
        {
            e.Report, e.Night, e.At, tradeable = e.ShutZones.Count == 0, e.ShutZones, e.NotClean, e.HalfSecured,
            failed = FailedOf(e.Answers), e.Corrects,
        }),
        AreaLookedAt e => new("setweek.area-looked-at.v1",
            new { e.Report, e.Zone, e.At, answered = e.Answers.Count, failed = FailedOf(e.Answers), e.Corrects, e.Photos }),
        DisplayShown e => new("setweek.display-shown.v1", new { e.Report, e.Display, e.At, people = e.To.Count, e.Corrects }),
        WeekHandedOver e => new("setweek.week-handed-over.v1", new { e.HandOver, e.At, e.OpenChecks, e.Snags, e.Photos }),
        HandOverWithdrawn e => new("setweek.hand-over-withdrawn.v1", new { e.HandOver }),
        SnagRaised e => new("setweek.snag-raised.v1", new
        {
            e.Report, e.Number, e.Zone, e.Display, e.Piece, e.Area, owner = e.Owner.Kind, e.Due, e.Safety, e.At, e.Photos,
            e.Corrects,
        }),
        SnagFixed e => new("setweek.snag-fixed.v1", new { e.Report, e.Snag, e.At, e.Photos, e.Corrects }),
        SnagReopened e => new("setweek.snag-reopened.v1", new { e.Report, e.Snag, e.At, e.Photos, e.Corrects }),
        SnagHandedOn e => new("setweek.snag-handed-on.v1",
            new { e.Report, e.Snag, owner = e.Owner?.Kind, e.Due, e.At, e.Photos, e.Corrects }),
        SnagAcceptedOpen e => new("setweek.snag-accepted-open.v1", new { e.Report, e.Snag, e.At, e.Photos, e.Corrects }),
        // The event store's placeholder for the sequence number of an append that was rolled back: there is no event.
        Tombstone => null,
        _ when Private.Contains(stored.GetType()) => null,
        _ => throw new ArgumentException(
            $"{stored.GetType().Name} has no public form, and is not listed as private.", nameof(stored)),
    };

    private static IEnumerable<string> FailedOf(IEnumerable<AnsweredCheck> answers) =>
        answers.Where(answer => answer.Answer == CheckResult.NotGood).Select(answer => answer.Check);

    /// <summary>How many checks had each answer: a store may have written their texts.</summary>
    private static object? Of(IReadOnlyList<CheckAnswer>? checks) => checks is null ? null : new
    {
        good = checks.Count(check => check.Result == CheckResult.Good),
        notGood = checks.Count(check => check.Result == CheckResult.NotGood),
        doesNotApply = checks.Count(check => check.Result == CheckResult.DoesNotApply),
    };

    private static object Of(GoalChoice choice) => new { goal = choice.Goal.Text(), choice.TolerancePercent };

    private static object Of(Direction direction) => new
    {
        direction = direction.Id, direction.Name, displays = direction.Displays.Select(display => display.Id),
        kits = direction.Kits.Select(kit => kit.Id), tasks = direction.Tasks.Count,
    };
}
