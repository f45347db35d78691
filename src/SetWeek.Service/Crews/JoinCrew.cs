using Marten;
using SetWeek.Domain.Crews;
using SetWeek.Model.Files.Shapes;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Crews;

public sealed class JoinCrew : ICommand
{
    public static Operation Operation => new("POST", "/weeks/{id}/crew", "joinCrew", "Adds a person to the crew of a week")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead),
        Body = new(typeof(CrewMember), CrewBody.Example),
        Replies = [new(204, "The person belongs to the crew")],
    };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (JsonCursor.Read(request.Body, WeekReader.CrewMember).TryPickT1(out var faults, out var member))
            return Refused.For(faults);
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        var crew = await session.CrewOf(week.Id, request.Cancelled);
        return CrewBody.Append(session, stream, crew, member, week.Join(crew, member.Id));
    }
}
