using Marten;
using OneOf;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Plans;

/// <summary>A plan with its problem, as needed to explain the plan or to simulate it.</summary>
/// <param name="Title">The direction and the store of the week.</param>
/// <param name="Schedule">The plan in the indexed form of the problem.</param>
public sealed record LoadedPlan(string Title, Problem Problem, Plan Plan, Schedule Schedule)
{
    /// <summary>The week as it is now.</summary>
    public required FoldedStream<StoreWeek> Stream { get; init; }

    /// <summary>The address of the plan.</summary>
    public required string Address { get; init; }

    public bool IsPublished { get; init; }

    /// <summary>Loads the plan of the route, with the facts from which it was computed.</summary>
    public static async Task<OneOf<LoadedPlan, Answer>> Requested(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (await session.FindCandidate(request.Id, request["plan"], request.Cancelled) is not { } candidate)
            return Refused.Missing("plan", request["plan"]);
        if (candidate.Plan is not { Nights.Count: > 0 } plan)
            return Refused.With(409, "This request has no plan yet, or none was found. Read the plan for its state.",
                "no-plan-yet");
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        var input = PlanningProblem.Of(week, crew, candidate.Now);
        plan = candidate.WithNames(crew).Plan!;
        // Work reported since belongs to a later plan.
        var problem = Problem.Of(input.Week, candidate.ReplanAsComputed());
        return new LoadedPlan(await session.TitleOf(week, request.Cancelled), problem, plan,
            PlanConverter.ScheduleOf(problem, plan))
        {
            Stream = stream, Address = PlanAnswer.AddressOf(week.Id, candidate.Id),
        };
    }

    /// <summary>Loads the published plan, with the actual times of the work reported so far.</summary>
    public static async Task<OneOf<LoadedPlan, Answer>> Published(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (week.Published is not { } published)
            return Refused.With(404, "No plan of this week is published yet. Publish one first.", "nothing-published");
        var input = PlanningProblem.Of(week, await session.CrewOf(week.Id, request.Cancelled),
            StoreTime.Local(week, request.Now));
        var problem = Problem.Of(input.Week, input.Replan);
        var schedule = problem.Facts!.PublishedWithActuals;
        return new LoadedPlan(await session.TitleOf(week, request.Cancelled), problem,
            published.Plan with { Nights = PlanConverter.NightsOf(problem, schedule) }, schedule)
        {
            Stream = stream, Address = $"/weeks/{week.Id}/plan", IsPublished = true,
        };
    }
}
