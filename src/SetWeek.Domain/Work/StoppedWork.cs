using SetWeek.Domain.Sentences;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;

namespace SetWeek.Domain.Work;

/// <summary>A start that was reported where the work is stopped. The start is a fact, so it is recorded all the same.</summary>
/// <param name="Stop">The id of the stop.</param>
public sealed record StartedAgainstStop(string Stop, string Sentence);

/// <summary>Finds the stop that a report goes against.</summary>
public static class StoppedWork
{
    /// <returns>Null if no stop stands where and when the work was started.</returns>
    public static StartedAgainstStop? StopAgainst(this StoreWeek week, IWorkReport report)
    {
        var (zone, night) = report switch
        {
            WorkStarted start => (ZoneOf(week, start.Task), start.Night),
            WorkResumed resumed => (ZoneOf(week, resumed.Task), resumed.Night),
            CleanDownStarted clean => (clean.Zone, clean.Night),
            _ => (null, null),
        };
        if (night is null || !week.Facts.Counts(report)) return null;
        var at = report.EffectiveAt().ToInstant();
        return week.StandingStops.FirstOrDefault(stop => stop.Night == night && (stop.Zone ?? zone) == zone
            && stop.EffectiveAt().ToInstant() <= at) is not { } found ? null
            : new StartedAgainstStop(found.Report, $"{EventSentences.Of(week, found)} The start is recorded. Stop the work, "
                + "and go on when a lead has lifted the stop.");
    }

    private static string? ZoneOf(StoreWeek week, string task) => week.Week.Tasks.FirstOrDefault(known => known.Id == task)?.Zone;
}
