using Marten;
using NodaTime;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Scheduling;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;
using About = SetWeek.Service.Access.About;
using Role = SetWeek.Service.Access.Role;
using Who = SetWeek.Service.Access.Who;

namespace SetWeek.Service.Plans;

public sealed class PublishPlan : ICommand
{
    private sealed record Body(LocalDateTime? Now);

    public static Operation Operation =>
        new("POST", "/weeks/{id}/plans/{plan}/publish", "publishPlan", "Makes a plan the one that the store works by")
    {
        MayUse = new Who(About.Week, Role.Lead),
        Body = new(typeof(Body), """{"now": "2027-03-08T18:30"}""", MayBeAbsent: true),
        IfMatch = true,
        Replies = [new(204, "It is published, checked against the facts of this moment")],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (request.Read(at => new Body(at.OptionalLocalTime("now"))).TryPickT1(out var faults, out var body))
            return Refused.For(faults);
        var past = await Streams.Week(session, request.Id, request.Cancelled);
        if (past.State is not { } week) return Refused.Missing("week", request.Id);
        if (past.Version != request.Version) return Refused.Stale(past.Version);
        if (await session.Candidate(week.Id, request["plan"], request.Cancelled) is not { } candidate)
            return Refused.Missing("plan", request["plan"]);

        var crew = await session.CrewOf(week.Id, request.Cancelled);
        var input = PlanningProblem.Of(week, crew, NotBefore(candidate.Now, body.Now ?? StoreTime.Local(week, request.Now)));
        var hash = input.Hash();
        var since = hash == candidate.InputHash ? [] : await Since(session, week, candidate.WeekVersion, request.Cancelled);
        return week.Publish(candidate, hash, hash == candidate.InputHash ? Breaches(input, candidate) : [], since, crew).Match(
            published => Answer.NoContent.At(past.Append(session, published)),
            Refused.For);
    }

    private static LocalDateTime NotBefore(LocalDateTime asked, LocalDateTime now) => now > asked ? now : asked;

    private static IReadOnlyList<Breach> Breaches(PlannerInput input, CandidatePlan candidate)
    {
        if (candidate.Plan is not { } plan) return [];
        var problem = Scheduling.Problem.Of(input.Week, input.Replan);
        return Checker.Check(problem, PlanTimes.ScheduleOf(problem, plan));
    }

    private static async Task<IReadOnlyList<string>> Since(
        IDocumentSession session, StoreWeek week, long version, CancellationToken cancelled) =>
        [.. (await session.Events.FetchStreamAsync(Streams.WeekKey(week.Id), fromVersion: version + 1, token: cancelled))
            .Select(e => e.Data).OfType<IWeekEvent>().Select(happened => Said.Of(week.Week, happened))];
}
