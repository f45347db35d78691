using Marten;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Revisions;
using SetWeek.Model.Files.Shapes;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Weeks;

namespace SetWeek.Service.Revisions;

public sealed class AddPin : ICommand
{
    public static Operation Operation =>
        new("POST", "/weeks/{id}/pins", "addPin", "Fixes a stint, or a person's shift or night off, in every later plan")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        Body = new(typeof(Pin), """{"task": "wall.paint", "night": "monday", "people": ["p1"]}"""),
        IfMatch = true,
        Replies = [new(201, "The pin, with its id; the same pin again is answered alike", typeof(PinView))],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session) => request.Read(WeekReader.Pin).Match(
        pin => request.Edit(session, (week, crew) =>
            {
                var current = PlanningProblem.WeekOf(week, crew);
                return week.FindPin(crew, pin) is not null ? current : current with { Pins = [.. current.Pins, pin] };
            },
            (wanted, faults) => RevisionAnswers.Faults(faults, ($"/pins/{wanted.Pins.Count - 1}", "")),
            (week, revision) =>
            {
                var view = PinView.Of(week.FindPin(revision.Crew, pin)!);
                return Answer.Created($"/weeks/{week.Id}/pins/{view.Id}", view);
            }),
        faults => Task.FromResult(Refused.For(faults)));
}
