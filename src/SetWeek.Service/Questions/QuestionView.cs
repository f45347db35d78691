using Marten;
using NodaTime;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Service.Questions;

/// <summary>A question as it is shown.</summary>
/// <param name="Display">The display that it is about, also if it names a task of it.</param>
/// <param name="By">The id of the person who asked; null if it is not known, and in questions of other stores.</param>
/// <param name="Text">Null if it is erased.</param>
/// <param name="Answer">Null if it is not answered.</param>
public sealed record QuestionView(
    string Week, string Store, string Direction, string Id, Addressee For, OffsetDateTime At, string? Task, int? Stint,
    string? Display, string? Block, string? By, string? Text, AnswerView? Answer)
{
    /// <summary>Shows questions with their texts.</summary>
    public static async Task<IReadOnlyList<QuestionView>> Of(
        IQuerySession session, IReadOnlyList<StoredQuestion> questions, CancellationToken cancelled)
    {
        if (questions.Count == 0) return [];
        var ids = questions.SelectMany(question => new[] { TextId(question), AnswerId(question) }).ToArray();
        var texts = (await session.LoadManyAsync<Note>(cancelled, ids)).ToDictionary(note => note.Id, note => note.Text);
        return
        [
            .. questions.Select(question => new QuestionView(
                question.Week, question.Store, question.Direction, question.Asked.Question, question.Asked.For,
                question.Asked.At, question.Asked.Task, question.Asked.Stint, question.Display ?? question.Asked.Display,
                question.Asked.Block, question.Asked.By, texts.GetValueOrDefault(TextId(question)),
                question.IsAnswered ? new AnswerView(question.ToAll, texts.GetValueOrDefault(AnswerId(question)),
                    question.Answer?.From, question.Answer?.By, question.Answer?.At) : null)),
        ];
    }

    private static string TextId(StoredQuestion question) => WeekQuestion.TextIdOf(question.Week, question.Asked.Question);

    private static string AnswerId(StoredQuestion question) => WeekQuestion.AnswerIdOf(question.Week, question.Asked.Question);
}

/// <param name="ToAll">Whether it is meant for every week of the direction.</param>
/// <param name="Text">Null if it is erased.</param>
/// <param name="From">Who answered, the lead or head office; null if it is not known, as what follows.</param>
/// <param name="By">The id of the person who answered; null also in answers that other stores got.</param>
public sealed record AnswerView(bool ToAll, string? Text, Addressee? From, string? By, Instant? At);
