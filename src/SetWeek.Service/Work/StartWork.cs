using OneOf;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Work;

public sealed class StartWork : IReport
{
    public static Operation Operation => new("POST", "/weeks/{id}/work/started", "startWork",
        "Reports that work has started, with the answers to its gates. If one is not good, the start is refused")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Body = new(typeof(StartBody), StartBody.Example),
        Replies = WorkReply.RecordedOrStopped,
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request)
    {
        var body = StartBody.Read(json);
        var time = request.TimeOf(body.At);
        return WorkReply.OrStopped(time, body.Started(time, request.Caller.Person)) with { Note = body.Note };
    }
}
