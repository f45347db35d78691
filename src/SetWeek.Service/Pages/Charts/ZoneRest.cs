using System.Globalization;
using NodaTime;
using SetWeek.Model.Plans;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Pages.Charts;

/// <summary>
/// The time after the last stint of a task in which its zone is closed, or in which what it made dries before work that follows.
/// It may last through the day into a later night.
/// </summary>
public sealed record ZoneRest(string Zone, string Task, OffsetDateTime From, OffsetDateTime To, bool IsClosed)
{
    /// <summary>"Tuesday 03:30".</summary>
    public static string DayAndTime(OffsetDateTime time) =>
        time.LocalDateTime.ToString("dddd HH:mm", CultureInfo.InvariantCulture);

    /// <summary>All of a plan, in time order.</summary>
    public static IReadOnlyList<ZoneRest> Of(Week week, IReadOnlyList<PlannedNight> nights)
    {
        if (week.Nights.Count == 0) return [];
        var grid = new Grid(week.Store.TimeZone, week.Nights[0].Opens, week.GridMinutes);
        var ends = nights.SelectMany(night => night.Work).Where(work => work.Task is not null).GroupBy(work => work.Task!)
            .ToDictionary(stints => stints.Key, stints => stints.Select(stint => stint.To).MaxBy(end => end.ToInstant()));
        var drying = week.Tasks.SelectMany(task => task.After).GroupBy(before => before.Task)
            .ToDictionary(before => before.Key, before => before.Max(link => link.DryMinutes));
        return [.. week.Tasks.Where(task => ends.ContainsKey(task.Id))
            .SelectMany(task => new[]
            {
                After(task, task.ClosesZoneMinutes, isClosed: true),
                After(task, drying.GetValueOrDefault(task.Id), isClosed: false),
            })
            .Where(rest => rest.From.ToInstant() < rest.To.ToInstant())
            .OrderBy(rest => rest.From.ToInstant()).ThenBy(rest => rest.Task, StringComparer.Ordinal)];

        ZoneRest After(WeekTask task, int minutes, bool isClosed) => new(task.Zone, task.Id, ends[task.Id],
            grid.TimeOf(grid.MinuteOf(ends[task.Id]) + minutes), isClosed);
    }
}
