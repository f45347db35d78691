using Marten;
using SetWeek.Model.Files.Shapes;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Revisions;

public sealed class SetGoals : ICommand
{
    private sealed record Body(
        IReadOnlyList<GoalChoice>? Goals, IReadOnlyList<GoalChoice>? ReplanGoals, HoldTarget? Hold);

    public static Operation Operation =>
        new("PUT", "/weeks/{id}/goals", "setGoals", "Sets what plans are made for; what is left out has its usual value")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
        Body = new(typeof(Body), """
            {"goals": [{"goal": "leftOut", "tolerancePercent": 0}, {"goal": "cost", "tolerancePercent": 3}],
             "replanGoals": [{"goal": "changes", "tolerancePercent": 0}],
             "hold": {"chance": 90, "graceMinutes": 30, "scenarios": 256, "seed": 0}}
            """),
        IfMatch = true,
        Replies = [new(204, "The goals are set")],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session) => request.Read(Read).Match(
        body => request.Edit(session, week => week with
        {
            Goals = body.Goals ?? Week.DefaultGoals, ReplanGoals = body.ReplanGoals ?? Week.DefaultReplanGoals,
            Hold = body.Hold ?? new HoldTarget(),
        }, (_, faults) => RevisionAnswers.Faults(faults,
            ("/goals", "/goals"), ("/replanGoals", "/replanGoals"), ("/hold", "/hold"))),
        faults => Task.FromResult(Refused.For(faults)));

    private static Body Read(JsonFields json) => new(
        json.Optional("goals") is { } goals ? WeekReader.Goals(goals, replan: false) : null,
        json.Optional("replanGoals") is { } replan ? WeekReader.Goals(replan, replan: true) : null,
        json.OptionalObject("hold", WeekReader.Hold));
}
