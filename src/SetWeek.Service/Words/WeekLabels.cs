using System.Globalization;
using NodaTime;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Words;

/// <summary>The names of people, tasks, zones and displays, and times, as users read them.</summary>
public sealed class WeekLabels(Week week)
{
    private readonly Dictionary<string, CrewMember> crew = week.Crew.ToDictionary(member => member.Id);
    private readonly Dictionary<string, WeekTask> tasks = week.Tasks.ToDictionary(task => task.Id);
    private readonly Dictionary<string, Zone> zones = week.Store.Zones.ToDictionary(zone => zone.Id);
    private readonly Dictionary<string, Night> nights = week.Nights.ToDictionary(night => night.Id);

    /// <summary>The name of a person; the id of one who was erased.</summary>
    public string Person(string id) => crew.GetValueOrDefault(id)?.Name ?? id;

    public WeekTask? Task(string? id) => id is null ? null : tasks.GetValueOrDefault(id);

    /// <summary>The name of a task, with its display if another task has the same name.</summary>
    public string TaskName(string id) => Task(id) is not { } task ? id
        : week.Tasks.Count(other => other.Name == task.Name) == 1 ? task.Name : $"{task.Name} ({Display(task.Display)})";

    public Night? Night(string id) => nights.GetValueOrDefault(id);

    /// <summary>The day on which a night opens; the id of a night that the week does not have.</summary>
    public string NightName(string id) => Night(id) is { } night ? Day(night.Opens) : id;

    /// <summary>As <see cref="Work"/>, with the display if the name alone is ambiguous.</summary>
    public string WorkWithDisplay(PlannedWork work) => work.Task is not { } id ? Work(work)
        : $"{TaskName(id)}{Part(work)}";

    public string Work(PlannedWork work) => $"{WorkName(work)}{Part(work)}";

    public string WorkName(PlannedWork work) => work.CleanDown is not null ? "Clean-down" : Task(work.Task)?.Name ?? work.Task!;

    /// <summary>", part 1 of 2"; empty for work that is done in one go.</summary>
    public string Part(PlannedWork work) =>
        Task(work.Task) is { Stints: > 1 } task ? $", part {work.Stint} of {task.Stints}" : "";

    public string ZoneOf(PlannedWork work) => (work.CleanDown ?? Task(work.Task)?.Zone) is { } id
        ? zones.GetValueOrDefault(id)?.Name ?? id : "";

    public string Display(string id) => week.Displays.FirstOrDefault(display => display.Id == id)?.Name ?? id;

    /// <summary>"a, b and c".</summary>
    public static string Join(IReadOnlyList<string> names) =>
        names.Count < 2 ? string.Concat(names) : $"{string.Join(", ", names.SkipLast(1))} and {names[^1]}";

    public static string Day(LocalDateTime time) => time.ToString("dddd d MMMM", CultureInfo.InvariantCulture);

    public static string Time(LocalDateTime time) => time.ToString("HH:mm", CultureInfo.InvariantCulture);

    /// <summary>A store-local time as a field for date and time has it, and as a body does.</summary>
    public static string Input(LocalDateTime time) => time.ToString("uuuu-MM-dd'T'HH:mm", CultureInfo.InvariantCulture);

    /// <summary>In a night with a clock change the UTC offset is added, because one local hour may occur twice.</summary>
    public static string Time(OffsetDateTime time, bool clocksChange) =>
        Time(time.LocalDateTime) + (clocksChange ? time.Offset.ToString(" (+HH:mm)", CultureInfo.InvariantCulture) : "");

    /// <summary>What a page says of a night in which the clocks change, where its times have their offset.</summary>
    public const string ClocksChangeNote = "The clocks change in this night, so each time has its UTC offset.";

    /// <param name="night">The id of the night.</param>
    public bool ClocksChange(string night) =>
        Night(night) is { } window && DateTimeZoneProviders.Tzdb[week.Store.TimeZone] is var zone
        && zone.AtLeniently(window.Opens).Offset != zone.AtLeniently(window.Closes).Offset;
}
