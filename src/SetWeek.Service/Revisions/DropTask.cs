using Marten;
using SetWeek.Domain.Revisions;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Revisions;

public sealed class DropTask : ICommand
{
    public static Operation Operation => new("DELETE", "/weeks/{id}/tasks/{task}", "dropTask",
        "Drops a task; tasks that had to follow it need not wait any more")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        IfMatch = true,
        Replies = [new(204, "The week does not have the task")],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session) =>
        request.Edit(session, week => week.WithoutTask(request["task"]), RevisionAnswers.StillNeeded);
}
