using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Domain.Weeks.Events.Snags;
using SetWeek.Domain.Weeks.Notifications;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Sentences;

/// <summary>
/// Describes an event in a sentence. Events contain no names of people, so that the names are looked up when it is read.
/// </summary>
public static class EventSentences
{
    /// <summary>A report from the floor, without saying who.</summary>
    public static string Of(StoreWeek week, IFloorReport report) => Of(week, CrewFile.Unnamed, report);

    /// <param name="week">A state that has what the event is about, such as its tasks, nights and pins.</param>
    /// <param name="crew">
    /// The names. A person who is erased, or of another crew, is shown by the id; of an unnamed crew everybody is somebody.
    /// </param>
    public static string Of(StoreWeek week, CrewFile crew, IWeekEvent e) =>
        crew.IsUnnamed ? Phrases.Capitalised(SentenceOf(week, crew, e)) : SentenceOf(week, crew, e);

    private static string SentenceOf(StoreWeek week, CrewFile crew, IWeekEvent e) => e switch
    {
        CrewJoined joined => $"{crew.NameOf(joined.Person)} joined the crew.",
        CrewChanged changed =>
            $"{crew.NameOf(changed.Person)} changed: {Phrases.List(changed.Changed.Select(FieldName).Distinct())}.",
        PersonAbsent absent => $"{crew.NameOf(absent.Person)} is absent from {Phrases.Night(week.Week, absent.Night)}.",
        PersonErased erased => $"The personal data of {crew.NameOf(erased.Person)} was erased.",
        AbsenceRetracted absent =>
            $"{crew.NameOf(absent.Person)} comes in {Phrases.Night(week.Week, absent.Night)} after all.",
        PlanPublished plan => $"Issue {plan.Issue ?? IssueOf(week, plan.PlanId) ?? week.NextIssue} of the plan was published.",
        PlanBroken plan => $"{Issue(week, plan.PlanId)} no longer holds: {NameRemoval.WithNames(plan.Sentence, crew)}",
        PlanHoldsAgain plan => $"{Issue(week, plan.PlanId)} holds again.",
        StopLifted lifted => $"{crew.NameOf(lifted.By)} lifted {Stop(week, lifted.Stop)}.",
        ReportRetracted retraction => week.Facts.Find(retraction.Retracts) switch
        {
            null => "A report that has not arrived was taken back.",
            ReportRetracted => "A retraction was to be taken back, but retractions stay.",
            WorkStopped => "A stop was to be taken back, but only a lead lifts it.",
            var report => $"Taken back: {Of(week, crew, report)}",
        },
        IWeekRevision revision => RevisionSentences.Of(week, crew, revision),
        INightReport or AreaLookedAt or DisplayShown or WeekHandedOver or HandOverWithdrawn =>
            NightSentences.Of(week.Week, crew, e),
        ISnagReport snag => SnagSentences.Of(week, crew, snag),
        _ => Of(week.Week, e),
    };

    /// <summary>A plan is named by its issue and not by its id.</summary>
    private static string Issue(StoreWeek week, string plan) =>
        IssueOf(week, plan) is { } number ? $"Issue {number} of the plan" : "A plan that was published";

    private static int? IssueOf(StoreWeek week, string plan) => week.Published is not { } published ? null
        : published.Earlier.Append(published.Issue).LastOrDefault(issue => issue.Plan == plan)?.Number;

    /// <summary>Everybody reads what has happened, so pay and age have one name.</summary>
    private static string FieldName(string field) => field switch
    {
        "keyholder" => "keys",
        "under18" or "ratePerHour" or "minutesAlready" => "particulars",
        "available" => "availability",
        "maxMinutesPerNight" or "maxNights" => "most hours",
        _ => field,
    };

    private static string Of(Week week, IWeekEvent e) => e switch
    {
        WeekOpened => "The week was opened.",
        KitExpected kit => $"{Phrases.Kit(week, kit.Kit)} is expected {Phrases.Time(kit.Eta)}.",
        KitDelayed { Eta: { } eta } kit => $"{Phrases.Kit(week, kit.Kit)} is late and now expected {Phrases.Time(eta)}.",
        KitDelayed kit => $"{Phrases.Kit(week, kit.Kit)} is late, and its arrival is unknown.",
        KitArrived kit => $"{Phrases.Kit(week, kit.Kit)} arrived {At(kit.At)}.",
        KitCounted { Confirmed: true } count =>
            $"{Phrases.Kit(week, count.Kit)} was confirmed as complete: {Phrases.List(count.Lines.Select(Line))}.",
        KitCounted count => $"{Phrases.Kit(week, count.Kit)} was counted: {Phrases.List(count.Lines.Select(Line))}.",
        KitLineSettled line => $"The received quantity of {IdWords.Spaced(line.Item)} of {Phrases.Kit(week, line.Kit)} was accepted.",
        WorkStarted work => $"{Phrases.Stint(week, work.Task, work.Stint)} was started {At(work.At)}{GatesOf(work)}.",
        WorkFinished work => $"{Phrases.Stint(week, work.Task, work.Stint)} was finished {At(work.At)}{Answers(work.Checks)}.",
        ChecksFailed failed => $"{Phrases.Stint(week, failed.Task, failed.Stint)} is not done: it was looked at {At(failed.At)}"
            + $"{Answers(failed.Checks)}.",
        WorkBlocked work => $"{Phrases.Stint(week, work.Task, work.Stint)} is blocked: {BlockWords.Of(work.Reason).ToLowerInvariant()}.",
        WorkProgressed work => $"{Phrases.Stint(week, work.Task, work.Stint)} {Progress(work)}.",
        WorkPaused work => $"{Phrases.Stint(week, work.Task, work.Stint)} was paused {At(work.At)}.",
        WorkResumed work => $"{Phrases.Stint(week, work.Task, work.Stint)} was resumed {At(work.At)}.",
        WorkReopened work => $"{Phrases.Stint(week, work.Task, work.Stint)} must be done again.",
        CleanDownStarted clean => $"The clean-down of {Zone(week, clean.Zone)} was started {At(clean.At)}.",
        CleanDownFinished clean => $"The clean-down of {Zone(week, clean.Zone)} was finished {At(clean.At)}.",
        WorkStopped { Zone: { } zone } stop =>
            $"Work in {Zone(week, zone)} was stopped for {Phrases.Night(week, stop.Night)}: not safe.",
        WorkStopped stop => $"All work was stopped for {Phrases.Night(week, stop.Night)}: not safe.",
        KitLineUnsettled line => $"The received quantity of {IdWords.Spaced(line.Item)} of {Phrases.Kit(week, line.Kit)} is no longer accepted.",
        QuestionAsked { Task: { } task } asked =>
            $"{AddresseeOf(asked.For)} was asked about {Phrases.Stint(week, task, asked.Stint ?? 1)} {At(asked.At)}.",
        QuestionAsked { Display: { } display } asked =>
            $"{AddresseeOf(asked.For)} was asked about {Phrases.Display(week, display)} {At(asked.At)}.",
        QuestionAsked asked => $"{AddresseeOf(asked.For)} was asked something {At(asked.At)}.",
        QuestionAnswered { ToAll: true } => "A question was answered for all stores.",
        QuestionAnswered => "A question was answered.",
        MemoRead => "The lead has read a memo of head office.",
        // Everybody who may read the week reads this, and only a lead reads who was told what.
        PersonTold told => $"Somebody was told what issue {told.Issue} of the plan changes for them.",
        TellingRetracted told => $"Taken back: somebody was told what issue {told.Issue} of the plan changes for them.",
        ChangesSeen seen => $"Somebody has seen what issue {seen.Issue} of the plan changes for them.",
        ChangesAnswered answer => $"Somebody has answered what issue {answer.Issue} of the plan changes for them.",
        _ => throw new ArgumentException($"{e.GetType().Name} has no sentence.", nameof(e)),
    };

    /// <summary>"the stop of Feature wall in the night of Mon 8 Mar".</summary>
    private static string Stop(StoreWeek week, string id) => week.Stops.GetValueOrDefault(id) switch
    {
        null => "a stop",
        { Zone: { } zone } stop => $"the stop of {Zone(week.Week, zone)} in {Phrases.Night(week.Week, stop.Night)}",
        var stop => $"the stop of all work in {Phrases.Night(week.Week, stop.Night)}",
    };

    private static string Line(CountedLine line) =>
        $"{line.Received} × {IdWords.Spaced(line.Item)}{(line.Damaged == 0 ? "" : $", {line.Damaged} of them damaged")}";

    private static string AddresseeOf(Addressee addressee) => addressee == Addressee.Lead ? "The lead" : "Head office";

    private static string Progress(WorkProgressed work) => Phrases.List(
        [.. work is { Done: { } done, Of: { } of } ? (string[])[$"has {done} of {of} done"] : [],
            .. work.RemainingMinutes is { } left ? (string[])[$"needs {left} more minutes"] : []]);

    /// <summary>": 2 checks good, 1 not good (No bare spot)".</summary>
    private static string Answers(IReadOnlyList<CheckAnswer>? checks)
    {
        if (checks is null or { Count: 0 }) return "";
        int Count(CheckResult result) => checks.Count(check => check.Result == result);
        var bad = checks.Where(check => check.Result == CheckResult.NotGood).Select(check => check.Check.TrimEnd('.')).ToList();
        return $": {string.Join(", ", new[]
        {
            Count(CheckResult.Good) is > 0 and var good ? $"{good} {(good == 1 ? "check" : "checks")} good" : null,
            Count(CheckResult.DoesNotApply) is > 0 and var none ? $"{none} not applicable" : null,
            bad.Count > 0 ? $"{bad.Count} not good ({string.Join("; ", bad)})" : null,
        }.OfType<string>())}";
    }

    private static string GatesOf(WorkStarted work) => work.Gates is { Count: > 0 and var count }
        ? $" after {count} {(count == 1 ? "answer" : "answers")} to gates" : "";

    private static string At(OffsetDateTime time) => Phrases.Time(time.LocalDateTime);

    private static string Zone(Week week, string id) => week.Store.Zones.FirstOrDefault(zone => zone.Id == id)?.Name ?? id;
}
