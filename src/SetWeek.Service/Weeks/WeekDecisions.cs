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
/// What becomes of a decision on a week: its events are added, its note is kept beside them, or its refusal is said.
/// </summary>
public static class WeekDecisions
{
    /// <summary>A decision of a lead or of head office.</summary>
    /// <param name="note">Free text that goes with it; erasable, so not in the event.</param>
    public static async Task<Answer> Decide<T>(
        this Request request, IDocumentSession session, Func<StoreWeek, OneOf<T, Refusal>> decide, string? note = null)
        where T : IWeekEvent
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        return decide(week).Match(happened => Append(session, stream, [happened], note), Refused.For);
    }

    /// <summary>A report from the floor. One that has come already is answered in the same way and adds nothing.</summary>
    public static async Task<Answer> TakeReport(
        this Request request, IDocumentSession session, OffsetDateTime at,
        Func<StoreWeek, OneOf<IReadOnlyList<IWeekEvent>, Refusal>> take, string? note = null)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        session.HappenedAt(at.ToInstant());
        return take(week).Match(happened => Append(session, stream, happened, note), Refused.For);
    }

    private static Answer Append(
        IDocumentSession session, FoldedStream<StoreWeek> stream, IReadOnlyList<IWeekEvent> happened, string? note)
    {
        if (happened.Count == 0) return Answer.NoContent.WithVersion(stream.Version);
        var version = stream.Append(session, happened);
        if (note is not null) session.Store(new Note(Note.IdOf(stream.Id, stream.Version + 1), note));
        return Answer.NoContent.WithVersion(version);
    }
}
