using SetWeek.Domain.Crews;
using SetWeek.Domain.Sentences;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Notifications;
using SetWeek.Model.Plans;

namespace SetWeek.Domain.Reports;

/// <summary>What has happened in a week, in the order in which it was recorded, with what was taken back.</summary>
public static class WeekHistory
{
    /// <param name="Report">The id of a report from the floor.</param>
    /// <param name="TakenBackBy">The position of the event that took this one back, from 0; null if it counts.</param>
    public sealed record Entry(IWeekEvent Event, string Sentence, string? Report, int? TakenBackBy)
    {
        /// <summary>Whether a retraction would take it back. A stop is lifted by a lead, and a retraction stays.</summary>
        public bool CanBeTakenBack => TakenBackBy is null && Event is IFloorReport and not (ReportRetracted or WorkStopped);
    }

    private const string AgreesSentence = " That agrees with an earlier report, and counts once.";

    /// <param name="week">The state after the events.</param>
    /// <param name="events">All events of the week, in order.</param>
    /// <param name="crew">The names of people now.</param>
    public static IReadOnlyList<Entry> Of(StoreWeek week, CrewFile crew, IReadOnlyList<IWeekEvent> events)
    {
        var entries = new List<Entry>(events.Count);
        string? arrival = null;
        StoreWeek? before = null;
        foreach (var (index, e) in events.Index())
        {
            if (e is KitArrived arrived) arrival = arrived.Report;
            var report = e switch
            {
                IFloorReport floor => floor.Report,
                // In older events a count follows its arrival and does not name it.
                KitCounted count => count.Report ?? arrival,
                _ => null,
            };
            // What was dropped later has its name in the state of then. A report may come after the one that takes it back.
            var known = (before ?? week) with { Facts = week.Facts };
            var after = StoreWeek.Evolve(before, e);
            var sentence = EventSentences.Of(known, crew, e) + (Agrees(before, e, after) ? AgreesSentence : "");
            entries.Add(new Entry(e, sentence, report, TakenBackBy(week, events, index, report)));
            before = after;
        }
        return entries;
    }

    /// <summary>
    /// Whether a report says of begun work that it is begun, or of finished work that it is finished, and adds nothing: two
    /// phones have reported the same.
    /// </summary>
    private static bool Agrees(StoreWeek? before, IWeekEvent e, StoreWeek? after) => e is IWorkReport report
        && before?.ReportedWork.StatusOf(report.Subject) is { } known && after!.ReportedWork.StatusOf(report.Subject) is { } now
        && (known.State, e) is (WorkState.Running, WorkStarted or CleanDownStarted)
            or (WorkState.Done, WorkFinished or CleanDownFinished)
        && (now.State, now.From, now.To) == (known.State, known.From, known.To)
        && now.LateSignatures.Count == known.LateSignatures.Count;

    private static int? TakenBackBy(StoreWeek week, IReadOnlyList<IWeekEvent> events, int index, string? report) =>
        events[index] switch
        {
            ReportRetracted => null,
            PersonAbsent absent => After<AbsenceRetracted>(events, index,
                later => later.Person == absent.Person && later.Night == absent.Night),
            PersonTold told => After<TellingRetracted>(events, index,
                later => later.Issue == told.Issue && later.Person == told.Person),
            KitLineSettled line => After<KitLineUnsettled>(events, index,
                later => later.Kit == line.Kit && later.Item == line.Item),
            _ when report is not null && week.Facts.TakenBack.Contains(report) => After<IFloorReport>(events, -1,
                naming => naming is ReportRetracted retraction ? retraction.Retracts == report
                    : naming.Corrects == report && week.Facts.Counts(naming)),
            _ => null,
        };

    /// <returns>The first event of that type after the position that fits; null if there is none.</returns>
    private static int? After<T>(IReadOnlyList<IWeekEvent> events, int index, Func<T, bool> fits) where T : IWeekEvent
    {
        for (var at = index + 1; at < events.Count; at++) if (events[at] is T e && fits(e)) return at;
        return null;
    }
}
