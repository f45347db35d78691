using Marten;
using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Sentences;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Weeks;

public sealed class ReadWeek : IQuery
{
    public sealed record View(
        string Id, long Version, string Direction, long DirectionVersion, string Store, LocalDateTime Launch,
        IReadOnlyList<Night> Nights,
        IReadOnlyList<KitView> Kits, IReadOnlyList<string> Crew, IReadOnlyList<AbsenceView> Absences, string? PublishedPlan,
        BrokenPlanView? BrokenPlan,
        IReadOnlyList<ScopingDecision> Scoping, IReadOnlyList<WorkView> Work, IReadOnlyList<StopView> Stops,
        IReadOnlyList<NoteView>? Notes,
        IReadOnlyList<DisplayView> Displays, IReadOnlyList<TaskView> Tasks, IReadOnlyList<PinView> Pins,
        PlanIssue? Issue, IReadOnlyList<PlanIssue> EarlierIssues);

    /// <param name="Choice">What the store has decided about it.</param>
    public sealed record DisplayView(string Id, string Name, DisplayCommitment Commitment, int Value, DisplayChoice Choice);

    /// <param name="Recipe">The id of the task in the direction; absent if somebody added it to this week.</param>
    /// <param name="Version">The version of the direction from which the task comes, or which the week had then.</param>
    /// <param name="Memo">The memo of head office that asked for it.</param>
    /// <param name="Author">The person who added it to this week; absent if it comes from the direction.</param>
    /// <param name="RevisedBy">The person who changed it last in this week.</param>
    public sealed record TaskView(string Id, string Name, string Display, string? Recipe, string Direction, long Version,
        string? Memo, string? Author, string? RevisedBy);

    public sealed record KitView(
        string Id, string Name, LocalDateTime? Eta, OffsetDateTime? Arrived, IReadOnlyList<KitLine> Lines,
        LocalDateTime? CountExpected, KitCounts.Missing? Missing);

    /// <summary>Why the published plan no longer holds.</summary>
    /// <param name="Task">The first stint in time that breaks the rule.</param>
    /// <param name="Report">The report from the floor with which it no longer held; null if it was a decision.</param>
    public sealed record BrokenPlanView(
        RuleId Rule, string? Task, int? Stint, string? CleanDown, string? Night, string Sentence, string? Report);

    public sealed record AbsenceView(string Person, string Night);

    /// <param name="To">
    /// The end of done work, or the expected end of running work of which somebody has said what is left.
    /// </param>
    /// <param name="People">Who did it, where somebody has said so; otherwise the people of the published plan did.</param>
    /// <param name="Done">The pieces done so far, of <paramref name="Of"/>.</param>
    public sealed record WorkView(
        string? Task, int? Stint, string? CleanDown, string? Night, ReportedState State, OffsetDateTime? From, OffsetDateTime? To,
        int? RemainingMinutes, OffsetDateTime? Until, string? Reason, IReadOnlyList<string>? People, int? Done, int? Of);

    /// <summary>A stop of work that no lead has lifted yet.</summary>
    /// <param name="Id">The id of the report that stopped the work; it is lifted by this id.</param>
    /// <param name="Zone">Null: the whole store.</param>
    public sealed record StopView(string Id, string Night, string? Zone, OffsetDateTime At, string Sentence);

    /// <summary>The note on the event of that version; only leads receive notes.</summary>
    public sealed record NoteView(long Version, string Text);

    public static Operation Operation => new("GET", "/weeks/{id}", "readWeek", "Reads the current state of a week")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Replies = [new(200, "The week; send its ETag as If-Match with a decision", typeof(View)) { HasETag = true }],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        var broken = week.Published?.Broken is { } breach
            ? Of(breach, await session.CrewOf(week.Id, request.Cancelled)) : null;
        return Answer.Ok(Of(week, stream.Version, broken, await request.NotesOf(session, stream.Id)))
            .WithVersion(stream.Version);
    }

    private static BrokenPlanView Of(PlanBroken broken, CrewFile crew) => new(broken.Rule, broken.Task, broken.Stint,
        broken.CleanDown, broken.Night, NameRemoval.WithNames(broken.Sentence, crew), broken.By);

    private static View Of(
        StoreWeek week, long version, BrokenPlanView? broken, IReadOnlyDictionary<long, string>? notes) => new(
        week.Id, version, week.Direction, week.DirectionVersion, week.Week.Store.Id, week.Week.Launch, week.Week.Nights,
        [.. week.Week.Kits.Select(kit => new KitView(kit.Id, kit.Name, kit.Eta,
            week.Arrivals.TryGetValue(kit.Id, out var time) ? time : null, kit.Lines,
            week.CountExpected.TryGetValue(kit.Id, out var counted) ? counted : null, week.MissingOf(kit.Id)))],
        week.Crew,
        [.. week.Absences.OrderBy(absence => absence.Night, StringComparer.Ordinal)
            .ThenBy(absence => absence.Person, StringComparer.Ordinal)
            .Select(absence => new AbsenceView(absence.Person, absence.Night))],
        week.Published?.PlanId, broken, WeekScoping.Of(week), [.. week.ReportedWork.Statuses.Select(Of)],
        [.. week.StandingStops.Select(stop =>
            new StopView(stop.Report, stop.Night, stop.Zone, stop.At, EventSentences.Of(week, stop)))],
        notes?.OrderBy(note => note.Key).Select(note => new NoteView(note.Key, note.Value)).ToList(),
        [.. week.Week.Displays.Select(display => new DisplayView(display.Id, display.Name, display.Commitment, display.Value,
            week.DisplayChoices.GetValueOrDefault(display.Id)))],
        [.. week.Week.Tasks.Select(task => Of(task, week.TaskOrigins[task.Id]))], [.. week.Pins.Select(PinView.Of)],
        week.Published?.Issue, week.Published?.Earlier ?? []);

    private static TaskView Of(WeekTask task, TaskOrigin origin) => new(task.Id, task.Name, task.Display,
        origin.Author is null ? task.Id : null, origin.Direction,
        origin.Version, origin.Memo, origin.Author, origin.RevisedBy);

    private static WorkView Of(WorkStatus work) => new(
        work.Subject.Task, work.Subject.Task is null ? null : work.Subject.Stint, work.Subject.CleanDown, work.Subject.Night,
        work.ReportedState, work.From, work.To, work.RemainingMinutes, work.Paused ? null : work.Until, work.Reason, work.People,
        work.Quantity?.Done, work.Quantity?.Of);
}
