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
    public static Operation Operation => new("POST", "/weeks/{id}/work/finished", "finishWork", "Reports that work is done")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew),
        Body = new(typeof(WorkBody), WorkBody.Example),
        Replies = [WorkReply.Recorded],
    };

    public static OneOf<FloorReport, Answer> Read(JsonFields json, Request request)
    {
        var body = WorkBody.Read(json);
        var time = request.TimeOf(body.At);
        return WorkReply.To(time, body.Finished(time));
    }
}
