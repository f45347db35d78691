using Marten;
using SetWeek.Domain.Revisions;
using SetWeek.Model.Files.Shapes;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Revisions;

public sealed class SetTask : ICommand
{
    private sealed record Body(string Name, string Display, string Zone, IReadOnlyList<Mode> Modes, int? Stints,
        IReadOnlyList<TaskPrecedence>? After, IReadOnlyList<KitRequirement>? Needs, IReadOnlyList<string>? Traits, string? Due,
        bool? Last, bool? Empties, bool? Fills, int? ClosesZoneMinutes, Estimate? Estimate, IReadOnlyList<string>? Checks,
        IReadOnlyList<string>? Steps, IReadOnlyList<string>? Cautions);

    public static Operation Operation =>
        new("PUT", "/weeks/{id}/tasks/{task}", "setTask", "Adds a task to the week, or replaces one as a whole")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        Body = new(typeof(Body), """
            {"name": "Wash the window", "display": "wall", "zone": "window", "due": "tuesday",
             "modes": [{"minutes": 20, "roles": [{"skill": "dressing", "people": 1}]}], "cautions": ["Mop up spilt water."]}
            """) { MayOmit = ["modes/roles"] },
        IfMatch = true,
        Replies = [new(204, "The task is set, with the caller as its author or as who revised it")],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session) =>
        request.Read(json => TaskReader.Task(request["task"], json)).Match(
            task => request.Edit(session, week => week.With(task), (wanted, faults) => RevisionAnswers.Faults(faults,
                (RevisionAnswers.PointerOf("/tasks", wanted.Tasks, other => other.Id == task.Id), ""))),
            faults => Task.FromResult(Refused.For(faults)));
}
