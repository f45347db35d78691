using Marten;
using OneOf;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Plans;

/// <summary>A plan of a week with what it is a plan of: what is asked about a plan is asked of this.</summary>
/// <param name="Title">Of the week, for people.</param>
/// <param name="Schedule">The plan's nights in the problem's own terms.</param>
public sealed record LoadedPlan(string Title, Problem Problem, Plan Plan, Schedule Schedule)
{
    /// <summary>The plan in the address, against the facts that it was worked out from.</summary>
    /// <param name="nothing">What there is none of as long as there is no plan, to end the refusal with.</param>
    public static async Task<OneOf<LoadedPlan, Answer>> Requested(Request request, IQuerySession session, string nothing)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (await session.FindCandidate(request.Id, request["plan"], request.Cancelled) is not { } candidate)
            return Refused.Missing("plan", request["plan"]);
        if (candidate.Plan is not { Nights.Count: > 0 } plan)
            return Refused.With(409, $"There is no plan here yet, or none at all: {nothing}.", "no-plan-yet");
        var input = PlanningProblem.Of(week, await session.CrewOf(week.Id, request.Cancelled), candidate.Now);
        // Facts that came later belong to another plan.
        var replan = candidate.Replaces is not { } published ? null
            : input.Hash() == candidate.InputHash ? input.Replan : new Replan(published, candidate.Now, []);
        var problem = Problem.Of(input.Week, replan);
        return new LoadedPlan(await session.TitleOf(week, request.Cancelled), problem, plan, PlanConverter.ScheduleOf(problem, plan));
    }

    /// <summary>The published plan, with the times at which work really began.</summary>
    public static async Task<OneOf<LoadedPlan, Answer>> Published(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (week.Published is not { } published)
            return Refused.With(404, "No plan of this week is published yet.", "nothing-published");
        var input = PlanningProblem.Of(week, await session.CrewOf(week.Id, request.Cancelled),
            StoreTime.Local(week, request.Now));
        var problem = Problem.Of(input.Week, input.Replan);
        var schedule = problem.Facts!.PublishedWithActuals;
        return new LoadedPlan(await session.TitleOf(week, request.Cancelled), problem,
            published.Plan with { Nights = PlanConverter.NightsOf(problem, schedule) }, schedule);
    }
}
