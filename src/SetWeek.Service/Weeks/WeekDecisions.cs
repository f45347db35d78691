using Marten;
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
        return await decide(week)
            .Match(e => Append(request, session, stream, e, note), refusal => Task.FromResult(Refused.For(refusal)));
    }

    private static async Task<Answer> Append(
        Request request, IDocumentSession session, FoldedStream<StoreWeek> stream, IWeekEvent e, string? note)
    {
        if (note is not null) session.Store(new Note(Note.IdOf(stream.Id, stream.Version + 1), note));
        var change = await session.PlanChange(StoreWeek.Evolve(stream.State, e)!, [e], request.Cancelled);
        return Answer.NoContent.WithVersion(stream.Append(session, change is null ? [e] : [e, change]));
    }
}
