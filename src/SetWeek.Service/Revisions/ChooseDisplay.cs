using Marten;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Revisions;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Revisions;

public sealed class ChooseDisplay : ICommand
{
    private sealed record Body(DisplayChoice Choice);

    public static Operation Operation => new("PUT", "/weeks/{id}/displays/{display}/choice", "chooseDisplay",
        "Decides whether a display is built, its alternate instead of it, or neither")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        Body = new(typeof(Body), """{"choice": "leaveOut"}"""),
        IfMatch = true,
        Replies = [new(204, "Later plans follow the choice")],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session) =>
        request.Read(json => new Body(json.Choice<DisplayChoice>("choice"))).Match(
            body => request.Edit(session, (week, crew) =>
                week.Week.Displays.FirstOrDefault(known => known.Id == request["display"]) is not { } display
                    ? Refused.Missing("display", request["display"])
                : body.Choice == DisplayChoice.UseAlternate && display.Alternate is null
                    ? Refused.With(409, $"“{display.Name}” has no alternate in this week.", "no-alternate")
                : PlanningProblem.WeekOf(week.With(display.Id, body.Choice), crew),
                (_, faults) => RevisionAnswers.Faults(faults), (_, _) => Answer.NoContent),
            faults => Task.FromResult(Refused.For(faults)));
}
