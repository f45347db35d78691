using NodaTime;
using OneOf;
using SetWeek.Domain;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Service.Http.Answers;

namespace SetWeek.Service.Http.Reports;

/// <summary>A report from the floor as read from a request: the decision on it, without effects.</summary>
/// <param name="HappenedAt">When the reported thing happened.</param>
/// <param name="Decide">
/// The events, none for a repeated report; or the refusal. It may ask who entered another report: null if that has not arrived.
/// </param>
public sealed record FloorReport(
    Instant HappenedAt, Func<StoreWeek, Func<string, string?>, OneOf<IReadOnlyList<IWeekEvent>, Refusal>> Decide)
{
    public FloorReport(Instant happenedAt, Func<StoreWeek, OneOf<IReadOnlyList<IWeekEvent>, Refusal>> decide)
        : this(happenedAt, (week, _) => decide(week))
    {
    }

    /// <summary>The field of a report with the id of the one that it corrects.</summary>
    public const string CorrectsField = "corrects";

    /// <summary>The id of the report that this one takes back or corrects: it is asked who entered it. Null for none.</summary>
    public string? AsksAbout { get; init; }

    /// <summary>Free text; it is stored outside the event, so that it can be erased.</summary>
    public string? Note { get; init; }

    /// <summary>Free texts that are found by ids of their own; they are stored with the event.</summary>
    public IReadOnlyList<Note> Texts { get; init; } = [];

    /// <summary>The answer, from the week after the report; no content unless given.</summary>
    public Func<StoreWeek, Answer>? Reply { get; init; }
}

/// <summary>The reports of one request, in the order in which they are taken.</summary>
/// <param name="Items">Each is a report, or the refusal of one that could not be read.</param>
/// <param name="Reply">The answer to the request, from the answers to its items.</param>
public sealed record ReportBatch(
    IReadOnlyList<OneOf<FloorReport, Answer>> Items, Func<IReadOnlyList<Answer>, Answer> Reply)
{
    public static ReportBatch Of(FloorReport report) => new([report], answers => answers[0]);
}
