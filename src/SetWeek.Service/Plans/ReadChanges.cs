using Marten;
using SetWeek.Domain.Crews;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Sentences;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Changes;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Plans;

public sealed class ReadChanges : IQuery
{
    public static Operation Operation => new("GET", "/weeks/{id}/plans/{plan}/changes", "readChanges",
        "Reads the changes of a re-plan: moved work, people to tell, cost")
    {
        MayUse = Permission.Everybody(AccessScope.Week),
        Replies =
        [
            new(200,
                "The changes against the plan that was published when the re-plan was computed; as a page (Accept: text/html) "
                + "beside those of the other options", typeof(ChangesView)),
            Reply.Page("The same as a page, beside the other options"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (await session.FindCandidate(request.Id, request["plan"], request.Cancelled) is not { } candidate)
            return Refused.Missing("plan", request["plan"]);
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        var input = PlanningProblem.Of(week, crew, candidate.Now);
        if (request.WantsPage)
            return candidate.Settled ? await Page(request, session, stream, candidate, crew, input.Week)
                : await PlanAnswer.Of(request, session, stream, candidate);
        return ChangesView.Of(candidate, input) is { } changes
            ? Answer.Ok(changes)
            : Refused.With(409, "This is not a re-plan, or it has no plan yet, so it has no changes.", "no-changes");
    }

    private static async Task<Answer> Page(Request request, IQuerySession session, FoldedStream<StoreWeek> stream,
        CandidatePlan stored, CrewFile crew, Week input)
    {
        var week = stream.State!;
        var candidate = (await session.AsOfNow(stored, stream, request.Cancelled)).WithNames(crew);
        var compared = new List<ComparedPlan>();
        if (candidate.Replaces is not null)
            foreach (var id in candidate.Options.Select(option => option.PlanId).DefaultIfEmpty(candidate.Id))
                if ((id == candidate.Id ? candidate : await session.FindCandidate(week.Id, id, request.Cancelled)) is
                    { Plan.Nights.Count: > 0 } option)
                    compared.Add(ComparedPlan.Of(input, option.WithNames(crew)));
        var since = candidate.State == CandidateState.Overtaken
            ? await session.EventsSince(week, candidate.WeekVersion, request.Cancelled) : [];
        return await request.Page<ChangesPage, ChangesPage.Compared>(new(
            await session.TitleOf(week, request.Cancelled),
            WeekLinks.Of(week.Id, week.Direction, request.Caller.Role, "Changes"), input, $"/weeks/{week.Id}", candidate.Id,
            candidate.State, compared, request.Caller.MaySeeParticulars,
            request.Caller.Role == Role.Crew ? request.Caller.Person : null)
        {
            Who = request.ReaderIn(crew),
            IsPublished = week.Published?.PlanId == candidate.Id,
            IsFirst = candidate is { Replaces: null, Plan.Nights.Count: > 0 },
            Failure = candidate.Failure,
            Since = [.. since.Where(e => !PublishCheck.IsFloorFact(e)).Select(e => EventSentences.Of(week, crew, e))],
            May = PlanAnswer.ActsFor(request, week.Id, stream.Version, null),
            PublishedShifts = candidate.Replaces?.Nights.Sum(night => night.Shifts.Count) ?? 0,
        });
    }
}
