using Marten;
using SetWeek.Domain.Crews;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;
using SetWeek.Service.Weeks;

namespace SetWeek.Service.Crews;

public sealed class MarkAbsent : ICommand
{
    private sealed record Body(string Night, string? Why);

    public static Operation Operation =>
        new("POST", "/weeks/{id}/crew/{person}/absent", "markAbsent", "Reports that a crew member is absent for a night")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead),
        Body = new(typeof(Body), """{"night": "night-1", "why": "Ill."}"""),
        Replies = [new(204, "The absence is recorded; the reason is stored apart, so that it can be erased")],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (request.Read(json => new Body(json.Id("night"), json.OptionalText("why", longest: 2000)))
            .TryPickT1(out var faults, out var body)) return Refused.For(faults);
        var crew = await session.CrewOf(request.Id, request.Cancelled);
        return await request.Decide(session, week => week.MarkAbsent(crew, request["person"], body.Night), body.Why);
    }
}
