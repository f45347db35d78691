using Marten;
using NodaTime;
using OneOf;
using SetWeek.Domain;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Weeks;

/// <summary>
/// Runs a decision on a week. It appends the events and stores the note, or returns the refusal.
/// </summary>
public static class WeekDecisions
{
    /// <summary>Runs a decision of a lead or of head office.</summary>
    /// <param name="note">Free text; it is stored outside the event, so that it can be erased.</param>
    public static async Task<Answer> Decide<T>(
        this Request request, IDocumentSession session, Func<StoreWeek, OneOf<T, Refusal>> decide, string? note = null)
        where T : IWeekEvent
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        return decide(week).Match(e => Append(session, stream, [e], note), Refused.For);
    }

    /// <summary>Records a report of work or of a kit. A repeated report adds no event.</summary>
    /// <param name="reply">The answer, from the week after the report; no content unless given.</param>
    public static async Task<Answer> TakeReport(
        this Request request, IDocumentSession session, OffsetDateTime at,
        Func<StoreWeek, OneOf<IReadOnlyList<IWeekEvent>, Refusal>> take, string? note = null,
        Func<StoreWeek, Answer>? reply = null)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        session.HappenedAt(at.ToInstant());
        return take(week).Match(events =>
        {
            var appended = Append(session, stream, events, note);
            return reply is null ? appended : reply(events.Aggregate(week, After)) with { ETag = appended.ETag };
        }, Refused.For);

        static StoreWeek After(StoreWeek week, IWeekEvent happened) => StoreWeek.Evolve(week, happened)!;
    }

    private static Answer Append(
        IDocumentSession session, FoldedStream<StoreWeek> stream, IReadOnlyList<IWeekEvent> events, string? note)
    {
        if (events.Count == 0) return Answer.NoContent.WithVersion(stream.Version);
        var version = stream.Append(session, events);
        if (note is not null) session.Store(new Note(Note.IdOf(stream.Id, stream.Version + 1), note));
        return Answer.NoContent.WithVersion(version);
    }
}
