using Marten;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Crews;

public sealed class ErasePerson : ICommand
{
    public static Operation Operation => new("DELETE", "/weeks/{id}/crew/{person}", "erasePerson",
        "Erases the personal data of a crew member; the id stays in the events")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        Replies = [new(204, "Name, rate, skills, age, hours and reasons of absence are erased")],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        if (week.Erase(crew, request["person"]).TryPickT1(out var refusal, out var erased)) return Refused.For(refusal);

        session.Store(crew.Without(erased.Person));
        foreach (var e in await session.Events.FetchStreamAsync(stream.Id, token: request.Cancelled))
            if (e.Data is PersonAbsent absent && absent.Person == erased.Person)
                session.Delete<Note>(Note.IdOf(stream.Id, e.Version));
        foreach (var candidate in await session.Query<CandidatePlan>().Where(plan => plan.Week == week.Id)
            .ToListAsync(request.Cancelled))
            if (candidate.Plan is { } plan) session.Store(candidate with { Plan = plan.WithoutNames(crew) });
        return Answer.NoContent.WithVersion(stream.Append(session, erased));
    }
}
