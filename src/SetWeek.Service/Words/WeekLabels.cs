using System.Globalization;
using NodaTime;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Words;

/// <summary>Names of people, tasks, zones and displays, and times, as users read them.</summary>
public sealed class WeekLabels(Week week)
{
    private readonly Dictionary<string, CrewMember> crew = week.Crew.ToDictionary(member => member.Id);
    private readonly Dictionary<string, WeekTask> tasks = week.Tasks.ToDictionary(task => task.Id);
    private readonly Dictionary<string, Zone> zones = week.Store.Zones.ToDictionary(zone => zone.Id);
    private readonly Dictionary<string, Night> nights = week.Nights.ToDictionary(night => night.Id);

    /// <summary>Somebody who was erased is an id.</summary>
    public string Person(string id) => crew.GetValueOrDefault(id)?.Name ?? id;

    public WeekTask? Task(string? id) => id is null ? null : tasks.GetValueOrDefault(id);

    /// <summary>A task by name, with its display where another is called the same.</summary>
    public string TaskName(string task) => Task(task) is not { } one ? task
        : week.Tasks.Count(other => other.Name == one.Name) == 1 ? one.Name : $"{one.Name} ({Display(one.Display)})";

    public Night? Night(string id) => nights.GetValueOrDefault(id);

    /// <summary>Where nothing beside it says of which display it is.</summary>
    public string WorkWithDisplay(PlannedWork work) => work.Task is not { } id ? Work(work)
        : $"{TaskName(id)}{(Task(id) is { Stints: > 1 } task ? $", part {work.Stint} of {task.Stints}" : "")}";

    public string Work(PlannedWork work) => work.CleanDown is not null ? "Clean-down"
        : Task(work.Task) switch
        {
            null => work.Task!,
            { Stints: > 1 } task => $"{task.Name}, part {work.Stint} of {task.Stints}",
            var task => task.Name,
        };

    public string ZoneOf(PlannedWork work) => (work.CleanDown ?? Task(work.Task)?.Zone) is { } id
        ? zones.GetValueOrDefault(id)?.Name ?? id : "";

    public string Display(string id) => week.Displays.FirstOrDefault(display => display.Id == id)?.Name ?? id;

    /// <summary>"a, b and c".</summary>
    public static string Join(IReadOnlyList<string> names) =>
        names.Count < 2 ? string.Concat(names) : $"{string.Join(", ", names.SkipLast(1))} and {names[^1]}";

    public static string Day(LocalDateTime time) => time.ToString("dddd d MMMM", CultureInfo.InvariantCulture);

    public static string Time(LocalDateTime time) => time.ToString("HH:mm", CultureInfo.InvariantCulture);

    /// <summary>In a night whose clocks change the offset is said too: its hour comes twice, or never.</summary>
    public static string Time(OffsetDateTime time, bool clocksChange) =>
        Time(time.LocalDateTime) + (clocksChange ? time.Offset.ToString(" (+HH:mm)", CultureInfo.InvariantCulture) : "");

    public bool ClocksChange(PlannedNight night) =>
        Night(night.Night) is { } window && DateTimeZoneProviders.Tzdb[week.Store.TimeZone] is var zone
        && zone.AtLeniently(window.Opens).Offset != zone.AtLeniently(window.Closes).Offset;
}
