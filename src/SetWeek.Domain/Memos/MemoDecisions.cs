using NodaTime;
using OneOf;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Domain.Memos;

/// <summary>The decision to record that a lead has read a memo.</summary>
public static class MemoDecisions
{
    public static bool IsFor(this Memo memo, StoreWeek week) =>
        memo.IsFor(week.Direction, week.Week.Store.Id, StoreTime.InstantOf(week, week.Week.Launch));

    /// <param name="by">The id of the lead.</param>
    /// <returns>The event; none if the memo was read already: the first reading stands.</returns>
    public static OneOf<IReadOnlyList<IWeekEvent>, Refusal> Read(this StoreWeek week, Memo memo, string by, Instant at)
    {
        if (!memo.IsFor(week)) return Refusal.NotFound("memo", memo.Id);
        if (week.Memos.ContainsKey(memo.Id)) return Array.Empty<IWeekEvent>();
        if (memo.WithdrawnAt is not null)
            return new Refusal("memo-withdrawn", "Head office has taken this memo back. Nobody has to read it.");
        return new IWeekEvent[] { new MemoRead(memo.Id, by, at) };
    }
}
