using System.Globalization;
using Marten;
using SetWeek.Domain;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Revisions;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Changes;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Plans;
using SetWeek.Service.Revisions;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Trials;

/// <summary>Accepts a repair that a plan offers: its changes become changes of the week, and a plan of it is requested.</summary>
public sealed class AcceptRepair : ICommand
{
    public static Operation Operation => new("POST", "/weeks/{id}/plans/{plan}/repairs/{number}/accept", "acceptRepair",
        "Changes the week as a repair says, in one step, and requests a plan; the first repair has the number 1")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead),
        Body = new(typeof(AcceptChanges.WantedPlan), """{"seconds": 10, "workers": 2}""", IsOptional: true),
        IfMatch = true,
        NeedsAdmission = true,
        Replies =
        [
            new(202, "The week is changed and a plan of it is requested, see Location", typeof(AcceptedChanges)),
        ],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (request.Read(RequestPlan.ReadLimits).TryPickT1(out var faults, out var limits)) return Refused.For(faults);
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        if (await session.FindCandidate(week.Id, request["plan"], request.Cancelled) is not { } candidate)
            return Refused.Missing("plan", request["plan"]);
        // The address counts from 1, as people do.
        if (!int.TryParse(request["number"], NumberStyles.None, CultureInfo.InvariantCulture, out var number)
            || candidate.Plan?.Repairs.ElementAtOrDefault(number - 1) is not { } repair)
            return Refused.Missing("repair", request["number"]);
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        var now = StoreTime.Local(week, request.Now);
        var input = PlanningProblem.Of(week, crew, now);
        if (input.Hash() != candidate.InputHash)
            return Refused.For(new Refusal("overtaken",
                "The week has changed since this repair was proven. Request a new plan and accept a repair of it."));
        return await week.Revise(crew, WeekChange.Apply(input.Week, repair.Changes), now, request.Caller.Person).Match(
            revision => AcceptChanges.Commit(request, session, stream, revision, limits),
            refusal => Task.FromResult(Refused.For(refusal)),
            invalid => Task.FromResult(RevisionAnswers.Faults(invalid)));
    }
}
