using Marten;
using SetWeek.Domain.Reports;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;
using SetWeek.Service.Weeks;

namespace SetWeek.Service.Crews;

public sealed class RetractAbsence : ICommand
{
    private sealed record Body(string Night, string? Why);

    public static Operation Operation => new("POST", "/weeks/{id}/crew/{person}/present", "retractAbsence",
        "Takes an absence back: the crew member comes that night after all")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead),
        Body = new(typeof(Body), """{"night": "night-1", "why": "Wrong person."}"""),
        Replies = [new(204, "The absence counts as never reported")],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (request.Read((JsonFields json) => new Body(json.Id("night"), json.OptionalText("why", longest: 2000)))
            .TryPickT1(out var faults, out var body)) return Refused.For(faults);
        var crew = await session.CrewOf(request.Id, request.Cancelled);
        return await request.Decide(session, week => week.RetractAbsence(crew, request["person"], body.Night), body.Why);
    }
}
