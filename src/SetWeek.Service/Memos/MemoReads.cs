using Marten;
using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Memos;
using SetWeek.Domain.Weeks;
using SetWeek.Service.Access;
using SetWeek.Service.Http.Requests;
using SetWeek.Service.Lists;
using SetWeek.Service.Pages.Memos;
using SetWeek.Service.Words;

namespace SetWeek.Service.Memos;

/// <summary>Reads memos, their texts, and in which weeks they are read.</summary>
internal static class MemoReads
{
    /// <summary>A week that a memo is meant for.</summary>
    /// <param name="Read">When its lead has read the memo; null if that is not so yet.</param>
    public sealed record MemoWeek(string Week, string Store, Instant? Read);

    /// <summary>The memos that a week shows, the latest first.</summary>
    public static async Task<IReadOnlyList<Memo>> MemosOf(
        this IQuerySession session, StoreWeek week, CancellationToken cancelled) =>
    [
        .. (await session.Query<Memo>().Where(memo => memo.Direction == week.Direction).ToListAsync(cancelled))
            .Where(memo => memo.IsShownIn(week))
            .OrderByDescending(memo => memo.Id, StringComparer.Ordinal),
    ];

    /// <summary>The texts of memos by the id of the memo; those that are erased are left out.</summary>
    public static async Task<IReadOnlyDictionary<string, string>> TextsOf(
        this IQuerySession session, IReadOnlyList<Memo> memos, CancellationToken cancelled)
    {
        if (memos.Count == 0) return new Dictionary<string, string>();
        var notes = (await session.LoadManyAsync<Note>(cancelled, [.. memos.Select(memo => Memo.TextIdOf(memo.Id))]))
            .ToDictionary(note => note.Id, note => note.Text);
        return memos.Where(memo => notes.ContainsKey(Memo.TextIdOf(memo.Id)))
            .ToDictionary(memo => memo.Id, memo => notes[Memo.TextIdOf(memo.Id)]);
    }

    /// <summary>The memos of a week for its pages.</summary>
    /// <param name="then">The page to show after one is recorded as read.</param>
    public static async Task<WaitingMemos> ShownMemosOf(
        this IQuerySession session, StoreWeek week, CrewFile crew, Request request, string then)
    {
        var memos = await session.MemosOf(week, request.Cancelled);
        var texts = await session.TextsOf(memos, request.Cancelled);
        var zone = StoreTime.ZoneOf(week);
        // Whoever reads from outside the store reads nobody's name.
        var isOfStore = request.Caller.Role is Role.Lead or Role.Crew;
        return new WaitingMemos(week.Id,
            [
                .. memos.Select(memo => new ShownMemo(memo.Id, texts.GetValueOrDefault(memo.Id), memo.IsSafety, At(memo.At, zone),
                    week.MemosRead.TryGetValue(memo.Id, out var read)
                        ? $"Read {At(read.At, zone)} by {(isOfStore ? crew.Find(read.By)?.Name : null) ?? "the lead"}." : null,
                    memo.WithdrawnAt is not null)),
            ],
            request.Caller.HasRole(MarkMemoRead.Operation.MayUse) ? request.FormToken() : null, then);
    }

    /// <summary>Those about safety, which stand on the page of a night's opening.</summary>
    public static async Task<WaitingMemos> SafetyMemosOf(
        this IQuerySession session, StoreWeek week, CrewFile crew, Request request, string then)
    {
        var waiting = await session.ShownMemosOf(week, crew, request, then);
        return waiting with { Memos = [.. waiting.Memos.Where(memo => memo.IsSafety)] };
    }

    /// <summary>The weeks that each memo is meant for, of the stores that the caller reaches.</summary>
    /// <returns>By the id of the memo; and whether every week was looked at.</returns>
    public static async Task<(ILookup<string, MemoWeek> Weeks, bool IsWhole)> WeeksOf(
        this IQuerySession session, IReadOnlyList<Memo> memos, Request request)
    {
        var (found, last) = await WeekScan.Page(request, session, new ListPage("", int.MaxValue), week =>
        {
            var launch = week.Launch.InZoneLeniently(DateTimeZoneProviders.Tzdb[week.TimeZone]).ToInstant();
            return memos.Where(memo => memo.IsFor(week.Direction, week.Store, launch)).Select(memo => ($"{week.Id}/{memo.Id}",
                (memo.Id, Week: new MemoWeek(week.Id, week.Store,
                    week.MemosRead.TryGetValue(memo.Id, out var read) ? read : null))));
        });
        return (found.ToLookup(one => one.Id, one => one.Week), last is null);
    }

    /// <summary>"Read in 3 of 7 stores."</summary>
    public static string Sentence(Memo memo, IReadOnlyCollection<MemoWeek> weeks, bool isWhole)
    {
        var read = weeks.Count(week => week.Read is not null);
        return (memo.WithdrawnAt is null ? "" : "Taken back. ") + (weeks.Count == 0
                ? "No week is open that it is meant for."
                : $"Read in {read} of {LedgerSentences.Count(weeks.Count, "store", "stores")}.")
            + (isWhole ? "" : " Not every week has been looked at; look again for the rest.");
    }

    public static string At(Instant time, DateTimeZone zone) => LedgerSentences.At(time.InZone(zone).LocalDateTime);
}
