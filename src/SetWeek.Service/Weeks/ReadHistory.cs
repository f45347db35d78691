using System.Globalization;
using JasperFx.Events;
using Marten;
using NodaTime;
using OneOf;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Reports;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Notifications;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Weeks;
using SetWeek.Service.Storage;
using SetWeek.Service.Words;

namespace SetWeek.Service.Weeks;

public sealed class ReadHistory : IQuery
{
    private const int MaxLimit = 1000, DefaultLimit = 200, DefaultOfPage = 50;

    public sealed record View(string Week, long Version, IReadOnlyList<EntryView> Events);

    /// <param name="Version">The version of the week after it.</param>
    /// <param name="Type">The stored name of the event.</param>
    /// <param name="At">When it happened.</param>
    /// <param name="Recorded">When the service recorded it.</param>
    /// <param name="Who">
    /// The id of the person who told the service; only lead and crew receive it, and only leads of those who have seen or
    /// answered a changed plan.
    /// </param>
    /// <param name="Sentence">For lead and crew with the names of people, for others with "somebody" in their place.</param>
    /// <param name="Report">The id of a report from the floor, for a retraction or correction.</param>
    /// <param name="StatedAt">The time that the device stated, where its clock was ahead of the service's.</param>
    /// <param name="TakenBackBy">The version of the event that took it back; null if it counts.</param>
    /// <param name="Note">Free text; only leads receive it.</param>
    public sealed record EntryView(
        long Version, string Type, Instant At, Instant Recorded, string? Who, string Sentence, string? Report,
        OffsetDateTime? StatedAt, long? TakenBackBy, string? Note);

    public static Operation Operation => new("GET", "/weeks/{id}/history", "readHistory",
        "Reads what has happened in a week, in order, with what was taken back")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Query =
        [
            new("after", "The version after which to begin; without it, from the beginning", "0"),
            new("before", "The version before which to end; without it, with the latest", "1000"),
            new("limit", $"Events in the answer, 1 to {MaxLimit}; without it {DefaultLimit}, on the page {DefaultOfPage}",
                DefaultLimit.ToString(CultureInfo.InvariantCulture)),
        ],
        Replies =
        [
            new(200, "The events of the week, as JSON or as a page (Accept: text/html)", typeof(View)) { HasETag = true },
            Reply.Page("The latest of them first, as a page: a lead takes reports back there, and crew those that are theirs"),
        ],
    };

    /// <summary>Which of the events are asked for.</summary>
    private sealed record Span(int? After, int? Before, int? Limit);

    private sealed record Loaded(
        StoreWeek Week, CrewFile Crew, IReadOnlyList<IEvent> Stored, IReadOnlyDictionary<long, string>? Notes,
        IReadOnlyList<(IEvent Event, WeekHistory.Entry Entry)> Between);

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        if (SpanOf(request).TryPickT1(out var refusal, out var span)) return refusal;
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        var stored = await session.Events.FetchStreamAsync(stream.Id, stream.Version, token: request.Cancelled);
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        var loaded = new Loaded(week, crew, stored, await request.NotesOf(session, stream.Id),
        [
            .. stored.Zip(WeekHistory.Of(
                    week, IsOfStore(request) ? crew : CrewFile.Unnamed, [.. stored.Select(e => (IWeekEvent)e.Data)]))
                .Where(pair => pair.First.Version > (span.After ?? 0) && pair.First.Version < (span.Before ?? int.MaxValue)),
        ]);
        return (request.WantsPage
            ? await request.Page<HistoryPage, HistoryPage.Content>(
                PageOf(request, loaded, span, await session.TitleOf(week, request.Cancelled)))
            : Answer.Ok(new View(week.Id, stream.Version,
            [
                .. loaded.Between.Take(span.Limit ?? DefaultLimit)
                    .Select(pair => ViewOf(request, loaded, pair.Event, pair.Entry)),
            ]))).WithVersion(stream.Version);
    }

    private static OneOf<Span, Answer> SpanOf(Request request)
    {
        if (!TryNumber(request.Query("after"), 0, int.MaxValue, out var after))
            return Refused.With(400, "\"after\" needs a version of the week, a whole number.", "no-version");
        if (!TryNumber(request.Query("before"), 0, int.MaxValue, out var before))
            return Refused.With(400, "\"before\" needs a version of the week, a whole number.", "no-version");
        if (!TryNumber(request.Query("limit"), 1, MaxLimit, out var limit))
            return Refused.With(400, $"The limit must be a whole number from 1 to {MaxLimit}.", "no-limit");
        return new Span(after, before, limit);
    }

    private static EntryView ViewOf(Request request, Loaded loaded, IEvent e, WeekHistory.Entry entry) => new(
        e.Version, StoredEvents.Names[e.EventType], EventMetadata.HappenedAt(e), Instant.FromDateTimeOffset(e.Timestamp),
        WhoOf(request, e), entry.Sentence, entry.Report, ClockOf(entry.Event)?.Stated,
        entry.TakenBackBy is { } by ? loaded.Stored[by].Version : null, loaded.Notes?.GetValueOrDefault(e.Version));

    private static HistoryPage.Content PageOf(Request request, Loaded loaded, Span span, string title)
    {
        var (week, caller) = (loaded.Week, request.Caller);
        var shown = loaded.Between.TakeLast(span.Limit ?? DefaultOfPage).Reverse().ToList();
        var ids = request.NewIds(shown.Count);
        return new HistoryPage.Content(
            title, week.Id, week.Week.Store.TimeZone, WeekLinks.Of(week.Id, week.Direction, caller.Role, "What was entered"),
            request.ReaderIn(loaded.Crew), caller.Role,
            [
                .. shown.Select((pair, index) => new HistoryPage.Shown(
                    pair.Event.Version, When(loaded, pair.Event), pair.Entry.Sentence, EnteredBy(request, loaded, pair.Event),
                    loaded.Notes?.GetValueOrDefault(pair.Event.Version),
                    pair.Entry.TakenBackBy is { } by ? TakenBack(request, loaded, loaded.Stored[by]) : null,
                    pair.Entry is { CanBeTakenBack: true, Report: { } report }
                        && (caller.Role == Role.Lead || pair.Entry.Event is IFloorReport floor
                            && week.IsTheirs(floor, caller.Person, pair.Event.UserName))
                        ? new HistoryPage.TakeBack(report, ids[index]) : null)),
            ],
            caller.HasRole(RetractReport.Operation.MayUse) ? request.FormToken() : null, AddressOf(week.Id, span),
            shown.Count < loaded.Between.Count ? AddressOf(week.Id, span with { Before = (int)shown[^1].Event.Version }) : null,
            span.Before is null ? null : AddressOf(week.Id, span with { Before = null }));
    }

    private static string AddressOf(string week, Span span)
    {
        var values = new (string Name, int? Value)[] { ("after", span.After), ("before", span.Before), ("limit", span.Limit) }
            .Where(part => part.Value is not null)
            .Select(part => string.Create(CultureInfo.InvariantCulture, $"{part.Name}={part.Value}")).ToList();
        return $"/weeks/{week}/history{(values.Count == 0 ? "" : $"?{string.Join('&', values)}")}";
    }

    private static string TakenBack(Request request, Loaded loaded, IEvent by) =>
        (by.Data is IFloorReport and not ReportRetracted ? "Replaced by a later report, " : "Taken back ") + When(loaded, by)
            + (EnteredBy(request, loaded, by) is { } who ? $", by {who}." : ".");

    private static string NameOf(Loaded loaded, string person) => loaded.Crew.Find(person)?.Name ?? person;

    /// <summary>Nobody enters what the service finds out of the published plan.</summary>
    private static string? EnteredBy(Request request, Loaded loaded, IEvent e) =>
        e.Data is not (PlanBroken or PlanHoldsAgain) && WhoOf(request, e) is { Length: > 0 } who ? NameOf(loaded, who) : null;

    /// <summary>
    /// Those outside the store read what happened without who: a sentence may say that somebody came late or is absent. Whoever
    /// sees something or answers it tells so themselves: only a lead reads who.
    /// </summary>
    private static string? WhoOf(Request request, IEvent e) =>
        !IsOfStore(request) || e.Data is INotificationEvent && request.Caller.Role != Role.Lead ? null : e.UserName;

    private static bool IsOfStore(Request request) => request.Caller.Role is Role.Lead or Role.Crew;

    /// <summary>By the store's clock. On a day with a clock change the offset is added.</summary>
    private static string When(Loaded loaded, IEvent e)
    {
        var at = EventMetadata.HappenedAt(e);
        var zone = DateTimeZoneProviders.Tzdb[loaded.Week.Week.Store.TimeZone];
        var (time, half) = (at.InZone(zone).ToOffsetDateTime(), Duration.FromHours(12));
        return $"{WeekLabels.Day(time.LocalDateTime)}, "
            + WeekLabels.Time(time, zone.GetUtcOffset(at - half) != zone.GetUtcOffset(at + half));
    }

    private static ReportClock? ClockOf(IWeekEvent e) =>
        e is IFloorReport report ? report.Clock : (e as QuestionAsked)?.Clock;

    /// <param name="number">Null if there is no text.</param>
    /// <returns>False if the text is no whole number within the bounds.</returns>
    private static bool TryNumber(string? text, int least, int most, out int? number)
    {
        number = int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var read)
            && read >= least && read <= most ? read : null;
        return text is null || number is not null;
    }
}
