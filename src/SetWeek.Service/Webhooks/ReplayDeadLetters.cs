using Marten;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;

namespace SetWeek.Service.Webhooks;

public sealed class ReplayDeadLetters : ICommand
{
    public static Operation Operation => new("POST", "/webhooks/{id}/dead-letters/replay", "replayDeadLetters",
        "Tries dead letters again, those of one subject or all")
    {
        MayUse = new Permission(AccessScope.Chain, Role.HeadOffice),
        Body = new(typeof(DeadLetterBody), DeadLetterBody.Example, IsOptional: true),
        Replies = [new(204, "They are tried at once, and then as often as new ones; later events of their subjects follow them")],
    };

    public static Task<Answer> Handle(Request request, IDocumentSession session) => DeadLetterBody.Handle(request, session, """
        update setweek.webhook_lane l set dead = false, attempts = 0, first_tried = null, due = now() where
        """);
}
