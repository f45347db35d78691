using Marten;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Pages;
using SetWeek.Service.Pages.Questions;
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
        Query =
        [
            new("task", "On the page: the task that is chosen already", "canopy.hang"),
            new("block", "On the page: the report that blocks the task, which waits for the answer", "phone-3.19"),
            new("display", "On the page: the display that is chosen already", "canopy"),
        ],
        Replies =
        [
            new(200, "The questions with their answers, in the order in which they were asked, as JSON or as a page "
                + "(Accept: text/html)", typeof(View)) { HasETag = true },
            Reply.Page("The same as a page, with a form to ask"),
        ],
    };

    public static async Task<Answer> Handle(Request request, IQuerySession session)
    {
        var stream = await Streams.Week(session, request.Id, request.Cancelled);
        if (stream.State is not { } week) return Refused.Missing("week", request.Id);
        var own = week.Questions.Values.OrderBy(question => question.Asked.At.ToInstant())
            .ThenBy(question => question.Asked.Question, StringComparer.Ordinal)
            .Select(question => StoredQuestion.Of(week, question)).ToList();
        var others = (await StoredQuestion.Read(session, new(Direction: week.Direction, IsAnswered: true, ToAll: true), "",
            MostFromOthers, request.Cancelled)).Select(other => other.Question)
            .Where(other => other.Week != week.Id && !own.Exists(mine => IsOneAnswer(mine.Answer, other.Answer))).ToList();
        if (request.WantsPage) return (await Page(request, session, week, own, others)).WithVersion(stream.Version);
        return Answer.Ok(new View(
            await QuestionView.Of(session, own, request.Cancelled),
            [.. (await QuestionView.Of(session, others, request.Cancelled)).Select(other => other with
            {
                By = null, Answer = other.Answer is { } answer ? answer with { By = null } : null,
            })])).WithVersion(stream.Version);
    }

    /// <summary>Whether two questions were answered together, so that the week has the answer already.</summary>
    private static bool IsOneAnswer(QuestionAnswered? mine, QuestionAnswered? other) =>
        mine is { From: Addressee.HeadOffice, At: { } at } && other is { From: Addressee.HeadOffice } && other.At == at
            && other.By == mine.By;

    private static async Task<Answer> Page(Request request, IQuerySession session, StoreWeek week,
        IReadOnlyList<StoredQuestion> own, IReadOnlyList<StoredQuestion> others)
    {
        var address = $"/weeks/{week.Id}/questions";
        var displays = week.Week.Displays.Select(display => new WeekQuestionsPage.AskedDisplay(display.Id, display.Name,
            [.. week.Week.Tasks.Where(task => task.Display == display.Id)
                .Select(task => new WeekQuestionsPage.AskedTask(task.Id, task.Name))])).ToList();
        var mayAsk = request.Caller.HasRole(AskQuestion.Operation.MayUse);
        return await request.Page<WeekQuestionsPage, WeekQuestionsPage.Content>(new(
            await session.TitleOf(week, request.Cancelled), week.Week.Store.TimeZone,
            WeekLinks.Of(week.Id, week.Direction, request.Caller.Role, "Questions"),
            await ShownQuestions.Of(session, request, [.. own.OrderBy(question => question.IsAnswered)], address,
                ofOneStore: true),
            await ShownQuestions.Of(session, request, others, address, ofOthers: true),
            displays,
            mayAsk && request.FormToken() is { } token
                ? new(address, token, request.PlanIds.Next(request.SystemTime), request.Query("task"), request.Query("display"),
                    request.Filter("block"))
                : null,
            request.ReaderIn(await session.CrewOf(week.Id, request.Cancelled))));
    }
}
