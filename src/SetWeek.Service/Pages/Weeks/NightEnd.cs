using SetWeek.Model.Plans;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;
using SetWeek.Service.Pages.Charts;
using SetWeek.Service.Words;

namespace SetWeek.Service.Pages.Weeks;

/// <summary>How a planned night ends: the time in hand before closing up, and what dries when everybody is gone.</summary>
public static class NightEnd
{
    /// <summary>
    /// Elapsed minutes from the end of the last work until the time at which closing up has to begin: the close of the night less
    /// the minutes that the rules keep for closing.
    /// </summary>
    /// <returns>Null for a night without work.</returns>
    public static int? MinutesInHand(Week week, PlannedNight night)
    {
        if (night.Work.Count == 0 || week.Nights.FirstOrDefault(window => window.Id == night.Night) is not { } window)
            return null;
        var grid = new Grid(week.Store.TimeZone, week.Nights[0].Opens, week.GridMinutes);
        return grid.MinuteOf(window.Closes) - (week.Rules.ClosingMinutes ?? 0)
            - night.Work.Max(work => grid.MinuteOf(work.To));
    }

    /// <summary>
    /// What still dries when the last work of the night has ended, by the time at which it is dry: "Paint the wall, to Tuesday
    /// 03:30".
    /// </summary>
    /// <param name="nights">All nights of the plan.</param>
    public static IReadOnlyList<string> Dries(Week week, IReadOnlyList<PlannedNight> nights, PlannedNight night)
    {
        if (night.Work.Count == 0) return [];
        var (words, end) = (new WeekLabels(week), night.Work.Max(work => work.To.ToInstant()));
        return [.. ZoneRest.Of(week, nights)
            .Where(rest => !rest.IsClosed && rest.To.ToInstant() > end && night.Work.Any(work => work.Task == rest.Task
                && work.To.ToInstant() == rest.From.ToInstant()))
            .GroupBy(rest => rest.To.ToInstant()).OrderBy(rests => rests.Key)
            .Select(rests => $"{WeekLabels.Join([.. rests.Select(rest => words.TaskName(rest.Task)).Distinct()])}, "
                + $"to {ZoneRest.DayAndTime(rests.First().To)}")];
    }
}
