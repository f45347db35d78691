using NodaTime;
using OneOf;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Domain.Questions;

/// <summary>The decisions to record a question and its answer.</summary>
public static class QuestionDecisions
{
    private const string AnsweredAlready = "answered-already";

    /// <summary>
    /// Records a question. It may arrive before the report of its block, so that report need not be known yet.
    /// </summary>
    /// <returns>The event; none for a repeated question.</returns>
    public static OneOf<IReadOnlyList<IWeekEvent>, Refusal> Ask(this StoreWeek week, QuestionAsked asked)
    {
        if (week.Questions.TryGetValue(asked.Question, out var before))
            return AsStated(before.Asked) == AsStated(asked) ? Array.Empty<IWeekEvent>()
                : new Refusal("another-question",
                    "A question with this id is asked already, and differs. Give this question an id of its own.");
        if (asked.Display is { } named && week.Week.Displays.All(display => display.Id != named))
            return new Refusal("unknown-display", $"There is no display \"{named}\" in this week.");
        if (asked.Task is { } id)
        {
            if (week.Week.Tasks.FirstOrDefault(task => task.Id == id) is not { } task)
                return new Refusal("unknown-task", $"There is no task \"{id}\" in this week.");
            if (asked.Stint > task.Stints)
                return new Refusal("unknown-stint", $"“{task.Name}” has no part {asked.Stint}; its last one is {task.Stints}.");
            if (asked.Display is not null && asked.Display != task.Display)
                return new Refusal("other-display",
                    $"“{task.Name}” belongs to another display. Ask about the task or about the display.");
        }
        return new IWeekEvent[] { asked };
    }

    /// <summary>
    /// The question with the time that the device stated: a repetition is received later, and on a shared phone perhaps with
    /// somebody else in hand.
    /// </summary>
    private static QuestionAsked AsStated(QuestionAsked asked) =>
        asked with { At = asked.StatedAt(), Clock = null, By = null };

    /// <param name="byHeadOffice">Whether head office answers; otherwise the store's lead does.</param>
    /// <param name="correction">Whether the answer replaces an earlier one.</param>
    /// <param name="by">The id of the person who answers.</param>
    public static OneOf<QuestionAnswered, Refusal> Answer(this StoreWeek week, string question, bool byHeadOffice, bool toAll,
        bool correction, string by, Instant at)
    {
        if (!week.Questions.TryGetValue(question, out var found)) return Refusal.NotFound("question", question);
        if (!byHeadOffice && found.Asked.For == Addressee.HeadOffice)
            return new Refusal("for-head-office",
                "This question is addressed to head office. Wait for its answer, or ask there.");
        if (!byHeadOffice && toAll)
            return new Refusal("to-all", "Only head office answers for all stores. Answer for your own store: leave out toAll.");
        if (found.IsAnswered && !correction)
            return new Refusal(AnsweredAlready,
                "This question is answered already. To replace its answer, send this one as a correction.");
        return new QuestionAnswered(question, found.Asked.For, toAll,
            byHeadOffice ? Addressee.HeadOffice : Addressee.Lead, by, at);
    }

    /// <summary>
    /// One answer of head office to several questions, in any weeks. Each question has an event of its own. All of them are
    /// answered, or none is.
    /// </summary>
    /// <param name="asked">The questions, each with its week.</param>
    /// <param name="toAll">
    /// Whether the answer is for every store. Then one question of each direction says so, since every store reads each such
    /// answer.
    /// </param>
    /// <param name="storeOf">The name of the store of a week.</param>
    /// <param name="by">The id of the person who answers.</param>
    public static OneOf<IReadOnlyList<(StoreWeek Week, QuestionAnswered Answered)>, Refusal> AnswerTogether(
        IReadOnlyList<(StoreWeek Week, string Question)> asked, bool toAll, Func<StoreWeek, string> storeOf, string by,
        Instant at)
    {
        var answered = new List<(StoreWeek, QuestionAnswered)>();
        var already = new List<string>();
        var forAll = new HashSet<string>();
        foreach (var (week, question) in asked)
        {
            var decision = week.Answer(question, byHeadOffice: true, toAll: toAll && !forAll.Contains(week.Direction),
                correction: false, by, at);
            if (decision.TryPickT0(out var answer, out var refusal))
            {
                answered.Add((week, answer));
                forAll.Add(week.Direction);
            }
            else if (refusal.Code == AnsweredAlready)
                already.Add($"{storeOf(week)} has an answer to a question that you chose.");
            else return refusal;
        }
        return already.Count == 0 ? answered
            : new Refusal(AnsweredAlready, "Some of these questions are answered already. Choose again among those that wait.")
            {
                Because = [.. already.Distinct()],
            };
    }
}
