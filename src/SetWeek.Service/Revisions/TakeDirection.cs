using JasperFx.Events;
using Marten;
using SetWeek.Domain;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Revisions;
using SetWeek.Domain.Sentences;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Revisions;

public sealed class TakeDirection : ICommand
{
    private sealed record Body(long? Version);

    /// <param name="Changed">What changed, a sentence each.</param>
    /// <param name="Kept">What stays although the later version changes it, a sentence each.</param>
    /// <param name="Scoping">How the later version fits the store.</param>
    public sealed record Taken(long DirectionVersion, IReadOnlyList<string> Changed, IReadOnlyList<string> Kept,
        IReadOnlyList<ScopingDecision> Scoping);

    public static Operation Operation => new("POST", "/weeks/{id}/direction", "takeDirection",
        "Takes a later version of the direction into the open week; begun work, and what the week alone has, stay")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        Body = new(typeof(Body), """{"version": 2}""", IsOptional: true),
        IfMatch = true,
        Replies = [new(200, "The week follows that version, the current one unless given", typeof(Taken))],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        var read = request.Read(json => new Body(json.Optional("version")?.Long(1, long.MaxValue)));
        if (read.TryPickT1(out var faults, out var body)) return Refused.For(faults);
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        var direction = await Streams.Direction(session, week.Direction, request.Cancelled);
        var version = body.Version ?? direction.Version;
        if (version > direction.Version) return Refused.Missing("version", $"{version} of the direction {week.Direction}");
        if (version < week.DirectionVersion)
            return Refused.For(new Refusal("later-already", $"The week follows version {week.DirectionVersion} already."));
        var store = (await Streams.Store(session, week.Week.Store.Id, request.Cancelled)).State!;
        var later = Scoping.Of(await Version(session, week.Direction, version, request), store);
        if (version == week.DirectionVersion)
            return Answer.Ok(new Taken(version, [], [], later.Decisions)).WithVersion(stream.Version);
        var known = Scoping.Of(await Version(session, week.Direction, week.DirectionVersion, request), store);
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        var now = StoreTime.Local(week, request.Now);
        return DirectionUpdate.Of(week, crew, known, later, version, now, request.Caller.Person).Match(
            update => request.Append(session, stream, update.Revision).Match(
                kept => Answer.Ok(new Taken(version,
                    [.. update.Revision.Events.Select(e => EventSentences.Of(week, crew, e))], update.Kept, later.Decisions))
                    .WithVersion(kept),
                answer => answer),
            Refused.For,
            invalid => RevisionAnswers.Faults(invalid));
    }

    private static async Task<Direction> Version(IQuerySession session, string direction, long version, Request request)
    {
        IReadOnlyList<IEvent> events = await session.Events.FetchStreamAsync(
            Streams.DirectionKey(direction), version, token: request.Cancelled);
        return events.Select(e => e.Data).OfType<IDirectionEvent>().Aggregate((Direction?)null, Direction.Evolve)!;
    }
}
