using System.Text.Json;
using System.Text.Json.Nodes;
using Marten;
using OneOf;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Changes;
using SetWeek.Model.Comparing;
using SetWeek.Model.Json;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Replanning;
using SetWeek.Planning.Search;
using SetWeek.Service.Access;
using SetWeek.Service.Facts;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages.Trials;
using SetWeek.Service.Plans;
using SetWeek.Service.Solving;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Trials;

/// <summary>What-if: plans a week with trial changes while the caller waits, and stores nothing.</summary>
public sealed class TryChanges : IQuery
{
    private const int DefaultSeconds = 5, MostSeconds = 30;

    /// <param name="Changes">
    /// Each is a change of a known kind (docs/formats.md), or an operation of a JSON Patch (RFC 6902) on the week file.
    /// </param>
    public sealed record Body(IReadOnlyList<OneOf<WeekChange, WeekEdit>> Changes, int? Seconds, int? Effort, int? Seed,
        int? Workers);

    /// <param name="Plan">The plan file of the changed week.</param>
    /// <param name="Difference">Absent if the changed or the unchanged week has no plan.</param>
    public sealed record View([property: SentAs(typeof(Plan))] JsonElement Plan, DifferenceView? Difference);

    /// <param name="Against">"published" for the published plan, or "asItStands" for a plan of the unchanged week.</param>
    public sealed record DifferenceView(string Against, IReadOnlyList<GoalDifference> Goals, IReadOnlyList<WorkChange> Moved,
        IReadOnlyList<ShiftChange> Shifts, IReadOnlyList<Notification> Told, CostChange Cost);

    private sealed record TrialRequest(Trial Trial, SearchLimits Limits);

    public static Operation Operation =>
        new("POST", "/weeks/{id}/what-if", "tryChanges", "Plans the week with trial changes, and stores nothing")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        Body = new(typeof(Body), """
            {"changes": [{"kind": "kit", "kit": "canopy", "eta": "2027-03-12T10:00"},
                         {"op": "replace", "path": "/rules/minRestMinutes", "value": 600}], "seconds": 2}
            """),
        Replies =
        [
            new(200, "The plan of the changed week, and its differences; as JSON or as a page (Accept: text/html)", typeof(View)),
            Reply.Page("The same as a page, with a form that accepts the changes"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        if (request.Read(Read).TryPickT1(out var faults, out var asked)) return Refused.For(faults);
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        var now = StoreTime.Local(week, request.Now);
        var input = PlanningProblem.Of(week, await session.CrewOf(week.Id, request.Cancelled), now);
        // To apply the changes may take long, so it is part of the computation.
        var result = await request.Admission.Admit(request.Caller.Tenant, stop => asked.Trial.ApplyTo(input.Week, input.Replan)
            .MapT0(changed => WhatIf.Evaluate(input.Week, changed, asked.Limits, input.Replan, stop)), request.Cancelled);
        return await result.Match(tried => tried.Match(
            answer => request.WantsPage ? Page(request, session, input.Week, answer)
                : Task.FromResult(Answer.Ok(new View(PlanAnswer.AsFile(answer.Plan), answer.Difference is { } difference
                    ? new DifferenceView(difference.Baseline, difference.Goals, difference.Changes.Work,
                        difference.Changes.Shifts,
                        difference.Changes.Notifications, difference.Changes.Cost) : null))),
            unfit => Task.FromResult(Refused.For(new FaultReport(
                [.. unfit.All.Select(fault => fault with { Pointer = $"/changes{fault.Pointer}" })]), 422))), Task.FromResult);
    }

    private static async Task<Answer> Page(Request request, IQuerySession session, Week week, WhatIf tried)
    {
        var changes = JsonNode.Parse(request.Body.Span)!["changes"]!.ToJsonString();
        return await (await FactPages.Read(request, session)).Match(
            loaded => request.Page<TriedPage, TriedPage.Tried>(new(loaded.Forms, changes, ReadWhatIf.Sentences(changes, week),
                tried.Week, tried.Plan, tried.Difference, request.Caller.MaySeeParticulars)), Task.FromResult);
    }

    private static TrialRequest Read(JsonFields json)
    {
        json.RefuseNow();
        return new(Trial.Read(json.Required("changes")), json.PlanLimits(MostSeconds).ToSearch(DefaultSeconds));
    }
}
