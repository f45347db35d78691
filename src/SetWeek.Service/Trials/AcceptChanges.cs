using Marten;
using OneOf;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Revisions;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Changes;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Plans;
using SetWeek.Service.Revisions;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Trials;

/// <summary>Accepts a what-if: the tried changes become changes of the week, all or none of them.</summary>
public sealed class AcceptChanges : ICommand
{
    /// <param name="Changes">As in a what-if.</param>
    /// <param name="Plan">The limits of a plan to request of the changed week; null: no plan is requested.</param>
    public sealed record Body(IReadOnlyList<OneOf<WeekChange, WeekEdit>> Changes, WantedPlan? Plan);

    /// <summary>The limits of a search, as in a request for a plan.</summary>
    public sealed record WantedPlan(int? Seconds, int? Effort, int? Seed, int? Workers, int? ChancePercent);

    private sealed record Accepted(Trial Trial, PlanLimits? Plan);

    public static Operation Operation => new("POST", "/weeks/{id}/changes", "acceptChanges",
        "Changes the week as a what-if tried it, in one step, and requests a plan if wanted")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        Body = new(typeof(Body), """
            {"changes": [{"kind": "window", "night": "monday", "closes": "2027-03-09T01:00"},
                         {"op": "replace", "path": "/rules/minRestMinutes", "value": 600}], "plan": {"seconds": 10, "workers": 2}}
            """),
        IfMatch = true,
        NeedsAdmission = true,
        Replies =
        [
            new(200, "The week is changed; a sentence says what", typeof(AcceptedChanges)),
            new(202, "The week is changed and a plan of it is requested, see Location", typeof(AcceptedChanges)),
        ],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (request.Read(Read).TryPickT1(out var faults, out var body)) return Refused.For(faults);
        if (body.Plan is not null && request.Caller.Role != Role.Lead)
            return Refused.With(403, "Only a lead requests a plan. Send the changes without it.", "other-role");
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        var now = StoreTime.Local(week, request.Now);
        var input = PlanningProblem.Of(week, crew, now);
        var applied = await Admission.OnOwnThread(() => body.Trial.ApplyTo(input.Week, input.Replan));
        if (applied.TryPickT1(out faults, out var wanted)) return InChanges(faults);
        return await week.Revise(crew, wanted, now, request.Caller.Person).Match(
            revision => Commit(request, session, stream, revision, body.Plan),
            refusal => Task.FromResult(Refused.For(refusal)),
            invalid => Task.FromResult(InChanges(
                new FaultReport([.. invalid.All.Select(RevisionAnswers.OfBody)]))));
    }

    /// <summary>Appends a revision and, if limits are given, requests a plan of the changed week.</summary>
    internal static async Task<Answer> Commit(Request request, IDocumentSession session, FoldedStream<StoreWeek> stream,
        WeekRevision revision, PlanLimits? plan)
    {
        if (request.Append(session, stream, revision).TryPickT1(out var refused, out var version)) return refused;
        var after = RevisionAnswers.After(stream.State!, revision);
        if (plan is null) return Answer.Ok(AcceptedChanges.Of(stream.State!, revision, null)).WithVersion(version);
        var requested = await RequestPlan.Queue(request, session, new(stream.Id, after, version), revision.Crew, plan);
        return Answer.Accepted(PlanAnswer.AddressOf(after.Id, requested.Id),
            AcceptedChanges.Of(stream.State!, revision, requested)).WithVersion(version);
    }

    private static Answer InChanges(FaultReport faults) => Refused.For(
        new FaultReport([.. faults.All.Select(fault => fault with { Pointer = $"/changes{fault.Pointer}" })]), 422);

    private static Accepted Read(JsonFields json) => new(Trial.Read(json.Required("changes")),
        json.OptionalObject("plan", RequestPlan.ReadLimits));
}
