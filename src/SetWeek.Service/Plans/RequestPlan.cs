using Marten;
using NodaTime;
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
    public sealed record Body(int? Seconds, int? Effort, int? Seed, int? Workers, LocalDateTime? Now,
        int? ChancePercent);

    public sealed record Requested(string Id, CandidateState State);

    private sealed record Asked(PlanLimits Limits, LocalDateTime? Now);

    public static Operation Operation =>
        new("POST", "/weeks/{id}/plans", "requestPlan", "Requests a plan; if one is published, a re-plan")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead),
        Body = new(typeof(Body), """{"seconds": 10, "workers": 2, "seed": 0, "now": "2027-03-08T18:00", "chancePercent": 95}"""),
        Replies = [new(202, "The request is queued, see Location; older unfinished requests of the week are cancelled",
            typeof(Requested))],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (request.Read(Read).TryPickT1(out var faults, out var asked)) return Refused.For(faults);
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        foreach (var older in await session.UnfinishedCandidates(week.Id, request.Cancelled))
            session.Withdraw(older);

        var crew = await session.CrewOf(week.Id, request.Cancelled);
        var now = PlanningProblem.NotBefore(week, asked.Now ?? StoreTime.Local(week, request.Now));
        var input = PlanningProblem.Of(week, crew, now);
        var id = request.PlanIds.Next(request.Now);
        session.Insert(new CandidatePlan
        {
            Id = id,
            Week = week.Id,
            State = CandidateState.Queued,
            WeekVersion = stream.Version,
            InputHash = input.Hash(),
            Now = now,
            Asked = request.Now,
            Limits = asked.Limits,
            Replaces = input.Replan?.Published,
        });
        session.Ask(week.Id, id, SolvePriority.Lead);
        return Answer.Accepted($"/weeks/{week.Id}/plans/{id}", new Requested(id, CandidateState.Queued));
    }

    private static Asked Read(JsonFields json) => new(
        json.PlanLimits(PlanLimits.MostSeconds) with { ChancePercent = json.OptionalInt("chancePercent", 0, 100) },
        json.OptionalLocalTime("now"));
}
