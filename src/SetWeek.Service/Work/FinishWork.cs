using OneOf;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Reports;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Work;

public sealed class FinishWork : IReport
{
    public static Operation Operation => new("POST", "/weeks/{id}/work/finished", "finishWork",
        "Reports that work is done, with the answers to its checks. If one is not good, the work is not done and stays open")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Photos = PhotoUse.InForm,
        Body = new(typeof(FinishBody), FinishBody.Example),
        Replies = [WorkReply.Recorded],
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request)
    {
        var body = FinishBody.Read(json);
        var time = request.TimeOf(body.At);
        return WorkReply.To(time, body.Finished(time, request.Caller.Person)) with { Note = body.Note };
    }
}
