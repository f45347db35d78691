using Marten;
using SetWeek.Domain.Questions;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Questions;

public sealed class AnswerQuestion : ICommand
{
    private sealed record Body(string Text, bool ToAll, bool Correction);

    public static Operation Operation =>
        new("POST", "/weeks/{id}/questions/{question}/answer", "answerQuestion", "Answers a question, for one store or for all")
        {
            MayUse = new Permission(AccessScope.Week, Role.Lead, Role.HeadOffice),
            Body = new(typeof(Body), """{"text": "Yes, down to 180 cm.", "toAll": true, "correction": false}""")
            {
                MayOmit = ["toAll", "correction"],
            },
            Replies = [new(204, "The answer is recorded; with toAll every week of the direction shows it")],
        };

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (request.Read(Read).TryPickT1(out var faults, out var body)) return Refused.For(faults);
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        var byHeadOffice = request.Caller.Role == Role.HeadOffice;
        var by = request.Caller.Person;
        return week.Answer(request["question"], byHeadOffice, body.ToAll, body.Correction, by, request.Now).Match(answered =>
        {
            session.Store(new Note(WeekQuestion.AnswerIdOf(week.Id, answered.Question), body.Text));
            return Answer.NoContent.WithVersion(stream.Append(session, answered));
        }, Refused.For);
    }

    private static Body Read(JsonFields json) =>
        new(json.Text("text", AskQuestion.LongestText), json.Flag("toAll"), json.Flag("correction"));
}
