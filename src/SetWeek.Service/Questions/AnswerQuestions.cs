using System.Text.RegularExpressions;
using Marten;
using SetWeek.Domain.Questions;
using SetWeek.Domain.Weeks;
using SetWeek.Model.Json;
using SetWeek.Service.Access;
using SetWeek.Service.Http;
using SetWeek.Service.Http.Answers;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;
using SetWeek.Service.Storage;

namespace SetWeek.Service.Questions;

/// <summary>One answer to several questions, of one store or of many, in one transaction.</summary>
public sealed partial class AnswerQuestions : ICommand
{
    /// <summary>Each question may lie in a week of its own, which is read whole.</summary>
    private const int Most = 100;

    private const int LongestAddress = 300;

    /// <param name="Questions">The addresses of the questions.</param>
    private sealed record Body(IReadOnlyList<string> Questions, string Text, bool ToAll);

    public static Operation Operation => new("POST", "/questions/answers", "answerQuestions",
        "Answers several questions that ask the same, for the stores that asked or for all")
    {
        MayUse = new Permission(AccessScope.Chain, Role.HeadOffice),
        Body = new(typeof(Body), """
            {"questions": ["/weeks/first-rain.harbour-street/questions/phone-3.q1",
              "/weeks/first-rain.mill-lane/questions/phone-1.q4"],
             "text": "Yes, down to 180 cm.", "toAll": false}
            """)
        {
            MayOmit = ["toAll"],
        },
        Replies = [new(204, "Every one of them has the answer; if one is refused, none has")],
    };

    public static string AddressOf(StoredQuestion question) => $"/weeks/{question.Week}/questions/{question.Asked.Question}";

    public static async Task<Answer> Handle(Request request, IDocumentSession session)
    {
        if (request.Read(Read).TryPickT1(out var faults, out var body)) return Refused.For(faults);
        var addresses = body.Questions.Distinct().Select(address => QuestionAddress().Match(address))
            .Select(address => (Week: address.Groups[1].Value, Question: address.Groups[2].Value)).ToList();
        var reached = (await session.LoadManyAsync<WeekPlace>(
            request.Cancelled, [.. addresses.Select(address => address.Week).Distinct()]))
            .Where(place => request.Caller.MayAccess(place.Store)).Select(place => place.Id).ToHashSet();
        var unknown = body.Questions.Index()
            .Where(address => !reached.Contains(QuestionAddress().Match(address.Item).Groups[1].Value))
            .Select(address => new Fault($"/questions/{address.Index}", $"There is no question {address.Item}.")).ToList();
        if (unknown.Count > 0) return Refused.For(new FaultReport(unknown), 422);

        var weeks = new Dictionary<string, FoldedStream<StoreWeek>>();
        foreach (var week in reached)
            weeks[week] = await Streams.Week(session, week, request.Cancelled);
        var stores = await StreamNames.OfStores(
            session, weeks.Values.Select(week => week.State!.Week.Store.Id), request.Cancelled);
        return QuestionDecisions.AnswerTogether(
            [.. addresses.Select(address => (weeks[address.Week].State!, address.Question))], body.ToAll,
            week => stores.GetValueOrDefault(week.Week.Store.Id, week.Week.Store.Id), request.Caller.Person,
            request.Now).Match(answers =>
        {
            // The streams are appended to in the order of their ids, so that two such commands cannot deadlock.
            foreach (var week in answers.GroupBy(answer => answer.Week.Id).OrderBy(week => week.Key, StringComparer.Ordinal))
            {
                weeks[week.Key].Append(session, [.. week.Select(answer => answer.Answered)]);
                foreach (var (_, answered) in week)
                    session.Store(new Note(WeekQuestion.AnswerIdOf(week.Key, answered.Question), body.Text));
            }
            return Answer.NoContent;
        }, Refused.For);
    }

    private static Body Read(JsonFields json)
    {
        var questions = json.OptionalList("questions", question =>
        {
            var address = question.Text(LongestAddress);
            if (address.Length > 0 && !QuestionAddress().IsMatch(address))
                question.AddFault("This is not the address of a question: /weeks/WEEK/questions/QUESTION.");
            return address;
        }, Most);
        if (questions.Count == 0) json.AddFault("questions", "Choose at least one question.");
        return new Body(questions, json.Text("text", AskQuestion.LongestText), json.Flag("toAll"));
    }

    [GeneratedRegex(@"^/weeks/([^/]+)/questions/([^/]+)\z")]
    private static partial Regex QuestionAddress();
}
