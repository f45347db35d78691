using Marten;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Questions;

public sealed class ReadWeekQuestions : IQuery
{
    private const int MostFromOthers = 200;

    /// <param name="FromOthers">Questions of other weeks of the direction, answered to all.</param>
    public sealed record View(IReadOnlyList<QuestionView> Questions, IReadOnlyList<QuestionView> FromOthers);

    public static Operation Operation => new("GET", "/weeks/{id}/questions", "readWeekQuestions",
        "Reads the questions of a week, and those of other weeks whose answers are for all")
    {
        MayUse = new Permission(AccessScope.Week, Role.Lead, Role.Crew, Role.HeadOffice),
        Replies = [new(200, "The questions with their answers, in the order in which they were asked", typeof(View))
            { HasETag = true }],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        var own = week.Questions.Values.OrderBy(question => question.Asked.At.ToInstant())
            .ThenBy(question => question.Asked.Question, StringComparer.Ordinal)
            .Select(question => StoredQuestion.Of(week, question)).ToList();
        var others = await StoredQuestion.Read(session, new(Direction: week.Direction, IsAnswered: true, ToAll: true), "",
            MostFromOthers, request.Cancelled);
        return Answer.Ok(new View(
            await QuestionView.Of(session, own, request.Cancelled),
            await QuestionView.Of(session, [.. others.Select(other => other.Question).Where(other => other.Week != week.Id)],
                request.Cancelled))).WithVersion(stream.Version);
    }
}
