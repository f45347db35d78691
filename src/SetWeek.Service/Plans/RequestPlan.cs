using System.Diagnostics;
using Marten;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Kits;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Solving;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Plans;

public sealed class RequestPlan : ICommand
{
    public sealed record Body(int? Seconds, int? Effort, int? Seed, int? Workers, int? ChancePercent);

    public sealed record Requested(string Id, CandidateState State);

    public static Operation Operation =>
        new("POST", "/weeks/{id}/plans", "requestPlan", "Requests a plan; if one is published, a re-plan")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead),
        Body = new(typeof(Body), """{"seconds": 10, "workers": 2, "seed": 0, "chancePercent": 95}"""),
        Replies = [new(202, "The request is queued, see Location; older unfinished requests of the week are cancelled",
            typeof(Requested))],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (request.Read(ReadLimits).TryPickT1(out var faults, out var limits)) return Refused.For(faults);
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is null) return Refused.Missing("week", request.Id);
        var crew = await session.CrewOf(request.Id, request.Cancelled);
        var requested = await Queue(request, session, stream, crew, limits);
        return Answer.Accepted(PlanAnswer.AddressOf(request.Id, requested.Id), requested);
    }

    /// <summary>Queues a request for a plan. Older unfinished requests of the week are cancelled.</summary>
    /// <param name="stream">The week as it will be once the session is committed.</param>
    /// <param name="crew">Its crew, also as it will be.</param>
    public static async Task<Requested> Queue(Request request, IDocumentSession session, FoldedStream<StoreWeek> stream,
        CrewFile crew, PlanLimits limits)
    {
        var week = stream.State!;
        foreach (var older in await session.UnfinishedCandidates(week.Id, request.Cancelled))
        {
            session.Withdraw(older);
            if (older.Batch is { } batch
                && await session.LoadAsync<KitDelayWeek>(KitDelayWeek.IdOf(batch, week.Id), request.Cancelled)
                    is { State: KitDelayState.Planning } delay)
                session.Store(delay.SupersededByLead());
        }

        var now = PlanningProblem.NotBefore(week, StoreTime.Local(week, request.Now));
        var input = PlanningProblem.Of(week, crew, now);
        var id = request.PlanIds.Next(request.SystemTime);
        session.Insert(new CandidatePlan
        {
            Id = id,
            Week = week.Id,
            State = CandidateState.Queued,
            WeekVersion = stream.Version,
            InputHash = input.Hash(),
            Now = now,
            Asked = request.SystemTime,
            Limits = limits,
            Trace = Activity.Current?.TraceId.ToString(),
            Replaces = input.Replan?.Published,
        });
        session.Ask(week.Id, id, SolvePriority.Lead);
        return new Requested(id, CandidateState.Queued);
    }

    /// <summary>Reads the limits of the search and the chance that is asked for.</summary>
    public static PlanLimits ReadLimits(JsonFields json)
    {
        json.RefuseNow();
        return json.PlanLimits(PlanLimits.MostSeconds) with { ChancePercent = json.OptionalInt("chancePercent", 0, 100) };
    }
}
