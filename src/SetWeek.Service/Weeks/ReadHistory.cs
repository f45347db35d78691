using System.Globalization;
using Marten;
using NodaTime;
using SetWeek.Domain.Reports;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Notifications;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Weeks;

public sealed class ReadHistory : IQuery
{
    private const int MaxLimit = 1000, DefaultLimit = 200;

    public sealed record View(string Week, long Version, IReadOnlyList<EntryView> Events);

    /// <param name="Version">The version of the week after it.</param>
    /// <param name="Type">The stored name of the event.</param>
    /// <param name="At">When it happened.</param>
    /// <param name="Recorded">When the service recorded it.</param>
    /// <param name="Who">
    /// The id of the person who told the service. Only leads receive it of those who have seen or answered a changed plan.
    /// </param>
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
            new("limit", $"Events in the answer, 1 to {MaxLimit}", DefaultLimit.ToString(CultureInfo.InvariantCulture)),
        ],
        Replies = [new(200, "The events of the week", typeof(View)) { HasETag = true }],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        if (Number(request.Query("after"), 0, int.MaxValue, otherwise: 0) is not { } after)
            return Refused.With(400, "\"after\" needs a version of the week, a whole number.", "no-version");
        if (Number(request.Query("limit"), 1, MaxLimit, DefaultLimit) is not { } limit)
            return Refused.With(400, $"The limit must be a whole number from 1 to {MaxLimit}.", "no-limit");
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        var stored = await session.Events.FetchStreamAsync(stream.Id, stream.Version, token: request.Cancelled);
        var notes = await request.NotesOf(session, stream.Id);
        var entries = WeekHistory.Of(week, await session.CrewOf(week.Id, request.Cancelled), [.. stored.Select(e => (IWeekEvent)e.Data)]);
        return Answer.Ok(new View(week.Id, stream.Version, [.. stored.Zip(entries).Skip(after).Take(limit).Select(pair =>
            new EntryView(pair.First.Version, StoredEvents.Names[pair.First.EventType],
                EventMetadata.HappenedAt(pair.First), Instant.FromDateTimeOffset(pair.First.Timestamp),
                // Whoever sees something or answers it tells so themselves: only a lead reads who.
                pair.First.Data is INotificationEvent && request.Caller.Role != Role.Lead ? null : pair.First.UserName,
                pair.Second.Sentence, pair.Second.Report, ClockOf(pair.Second.Event)?.Stated,
                pair.Second.TakenBackBy is { } by ? stored[by].Version : null,
                notes?.GetValueOrDefault(pair.First.Version)))])).WithVersion(stream.Version);
    }

    private static ReportClock? ClockOf(IWeekEvent e) =>
        e is IFloorReport report ? report.Clock : (e as QuestionAsked)?.Clock;

    private static int? Number(string? text, int least, int most, int otherwise) => text is null ? otherwise
        : int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number >= least && number <= most
            ? number : null;
}
