using Marten;
using NodaTime;
using OneOf;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Sentences;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Solving;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Plans;

public sealed class PublishPlan : ICommand
{
    private sealed record Body;

    public static Operation Operation =>
        new("POST", "/weeks/{id}/plans/{plan}/publish", "publishPlan", "Publishes a plan: the store works by it from now on")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead),
        Body = new(typeof(Body), "{}", IsOptional: true),
        IfMatch = true,
        Replies = [new(204, "The plan was checked against the current state of the week and is published")],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (request.Read(Read).TryPickT1(out var faults, out _)) return Refused.For(faults);
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (!stream.IsCurrent(request.Version)) return Refused.Stale(stream.Version);
        if (await session.FindCandidate(week.Id, request["plan"], request.Cancelled) is not { } candidate)
            return Refused.Missing("plan", request["plan"]);

        return (await Decide(session, stream, candidate, request.Now, request.Caller.Person, request.Cancelled)).Match(
            published => Answer.NoContent.WithVersion(stream.Append(session, published)),
            Refused.For);
    }

    /// <summary>Decides whether a plan can be published. A batch of head office that may publish asks it too.</summary>
    /// <param name="at">By the clock of planning.</param>
    /// <param name="by">The id of the person who publishes it.</param>
    public static async Task<OneOf<PlanPublished, Refusal>> Decide(
        IDocumentSession session, FoldedStream<StoreWeek> stream, CandidatePlan candidate, Instant at, string by,
        CancellationToken cancelled)
    {
        var week = stream.State!;
        var now = StoreTime.Local(week, at);
        var crew = await session.CrewOf(week.Id, cancelled);
        var input = PlanningProblem.Of(week, crew, NotBefore(candidate.Now, now));
        var since = await session.InputHash(stream, cancelled) == candidate.InputHash ? []
            : await session.EventsSince(week, candidate.WeekVersion, cancelled);
        var overtaken = since.Any(e => !PublishCheck.IsFloorFact(e));
        var breaches = overtaken || candidate.Plan is not { } plan ? [] : PublishCheck.Breaches(week, input, plan);
        return week.Publish(candidate, overtaken, breaches, [.. since.Select(e => EventSentences.Of(week, crew, e))], crew)
            .MapT0(published => published with { By = by, At = at });
    }

    private static Body Read(JsonFields json)
    {
        json.RefuseNow();
        return new Body();
    }

    private static LocalDateTime NotBefore(LocalDateTime planned, LocalDateTime now) => now > planned ? now : planned;
}
