using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Domain.Weeks;

/// <summary>A question of a week, with what is known of its answer. The texts are notes.</summary>
public sealed record WeekQuestion(QuestionAsked Asked)
{
    /// <summary>The answer that stands; null if there is none.</summary>
    public QuestionAnswered? Answer { get; init; }

    public bool IsAnswered => Answer is not null;

    /// <summary>Whether the answer is meant for every week of the direction.</summary>
    public bool ToAll => Answer is { ToAll: true };

    /// <summary>The id of the note with the text of a question.</summary>
    public static string TextIdOf(string week, string question) => $"question/{week}/{question}";

    /// <summary>The id of the note with the text of its answer.</summary>
    public static string AnswerIdOf(string week, string question) => $"answer/{week}/{question}";
}
