using NodaTime;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Weeks.Events;

/// <summary>A plan was checked against the state of the week and published: the store works by it.</summary>
/// <param name="InputHash">The hash of its <see cref="PlannerInput"/>.</param>
/// <param name="Plan">The whole plan, with ids in place of names, also in its sentences.</param>
/// <param name="Issue">1 for the first plan of the week that is published, 2 for the next. Null in older events.</param>
/// <param name="Pieces">The numbers of its work. Null in older events.</param>
/// <param name="By">The id of the person who published it. Null in older events.</param>
/// <param name="At">When it was published. Null in older events.</param>
public sealed record PlanPublished(
    string PlanId, string InputHash, Plan Plan, int? Issue = null, PieceNumbers? Pieces = null, string? By = null,
    Instant? At = null) : IWeekEvent;

/// <summary>
/// The numbers of the pieces of work of a published plan, as people say them: 115 is the fifteenth piece of the first night. A
/// number is never used for another piece of the week.
/// </summary>
/// <param name="Nights">Every night that ever had a number, and how many of its numbers are used.</param>
/// <param name="Pieces">The pieces of the plan.</param>
public sealed record PieceNumbers(IReadOnlyList<NumberedNight> Nights, IReadOnlyList<NumberedPiece> Pieces)
{
    public static PieceNumbers None { get; } = new([], []);

    /// <returns>Null if the plan does not have the work in that night.</returns>
    public int? Of(WorkKey work, string night) =>
        Pieces.FirstOrDefault(piece => piece.Night == night && piece.Work == work)?.Number;
}

/// <summary>A night with its number in the week.</summary>
/// <param name="Number">From 1, in the order of time at the first plan; a night that is added later gets the next number.</param>
/// <param name="Used">How many numbers its pieces have had so far.</param>
public sealed record NumberedNight(string Night, int Number, int Used);

/// <summary>A stint of a task, or the clean-down of a zone, with its number.</summary>
public sealed record NumberedPiece(int Number, string Night, string? Task, int? Stint, string? CleanDown)
{
    internal WorkKey Work => Task is { } task ? new WorkKey(task, Stint ?? 1) : WorkKey.CleanDownOf(CleanDown!, Night);
}

/// <summary>
/// With the events before this one, the published plan no longer holds: it breaks a rule. It stays published until another plan
/// is.
/// </summary>
/// <param name="Task">The first stint that breaks the rule; null for a clean-down, or if the rule is about no work.</param>
/// <param name="CleanDown">The zone whose clean-down breaks the rule.</param>
/// <param name="Sentence">How the rule is broken, with a mark in place of each name: "{person:c1}".</param>
/// <param name="By">The report from the floor with which it no longer holds; null if it was a decision.</param>
public sealed record PlanBroken(
    string PlanId, RuleId Rule, string? Task, int? Stint, string? CleanDown, string? Night, string Sentence, string? By)
    : IWeekEvent;

/// <summary>With the events before this one, the published plan holds again.</summary>
public sealed record PlanHoldsAgain(string PlanId) : IWeekEvent;
