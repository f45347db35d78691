using NodaTime;
using OneOf;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Domain.Memos;

/// <summary>Which memos a week shows, and the decision to record that a lead has read one.</summary>
public static class MemoDecisions
{
    public static bool IsFor(this Memo memo, StoreWeek week) =>
        memo.IsFor(week.Direction, week.Week.Store.Id, StoreTime.InstantOf(week, week.Week.Launch));

    /// <summary>Whether the week shows the memo. One that was taken back is shown only if it had been read.</summary>
    public static bool IsShownIn(this Memo memo, StoreWeek week) =>
        memo.IsFor(week) && (memo.WithdrawnAt is null || week.MemosRead.ContainsKey(memo.Id));

    /// <param name="by">The id of the lead.</param>
    /// <returns>The event; none if the memo was read already: the first reading stands.</returns>
    public static OneOf<IReadOnlyList<IWeekEvent>, Refusal> Read(this StoreWeek week, Memo memo, string by, Instant at)
    {
        if (!memo.IsFor(week)) return Refusal.NotFound("memo", memo.Id);
        if (week.MemosRead.ContainsKey(memo.Id)) return Array.Empty<IWeekEvent>();
        if (memo.WithdrawnAt is not null)
            return new Refusal("memo-withdrawn", "Head office has taken this memo back. Nobody has to read it.");
        return new IWeekEvent[] { new MemoRead(memo.Id, by, at) };
    }
}
