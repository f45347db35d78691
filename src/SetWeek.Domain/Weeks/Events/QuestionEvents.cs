using NodaTime;

namespace SetWeek.Domain.Weeks.Events;

/// <summary>Somebody in the store asks something. The text is a note, which can be erased.</summary>
/// <param name="Question">The id, made by the device that asks, so that a repeated question adds nothing.</param>
/// <param name="Task">The task that it is about; null if it is about a display or the whole week.</param>
/// <param name="Block">The report of the block that it belongs to; null for none.</param>
/// <param name="Clock">Given if the clock of the device was ahead of the service's.</param>
/// <param name="Display">The display that it is about; null if it names a task, or is about the whole week.</param>
/// <param name="By">The id of the person who asks. Null in older events.</param>
public sealed record QuestionAsked(
    string Question, string? Task, int? Stint, string? Block, Addressee For, OffsetDateTime At,
    ReportClock? Clock = null, string? Display = null, string? By = null) : IWeekEvent;

/// <summary>A question was answered, or its answer corrected. The text is a note; a correction replaces it.</summary>
/// <param name="For">To whom the question was addressed.</param>
/// <param name="ToAll">Whether the answer is meant for every week of the direction.</param>
/// <param name="From">Who answered: the store's lead or head office. Null in older events.</param>
/// <param name="By">The id of the person who answered. Null in older events.</param>
/// <param name="At">When it was answered. Null in older events.</param>
public sealed record QuestionAnswered(
    string Question, Addressee For, bool ToAll, Addressee? From = null, string? By = null, Instant? At = null) : IWeekEvent;

/// <summary>The lead has read a memo of head office.</summary>
/// <param name="By">The id of the lead.</param>
public sealed record MemoRead(string Memo, string By, Instant At) : IWeekEvent;

/// <summary>Who is asked to answer, or answers.</summary>
public enum Addressee { Lead, HeadOffice }
