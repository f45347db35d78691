using NodaTime;
using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Revisions;

/// <summary>
/// Finds where a wanted week contradicts work that has begun. Begun work keeps its display, its zone, its parts and the people
/// and equipment of its modes, and it stays in its night. Its minutes may change, because parts of it may still come.
/// </summary>
internal static class BegunWork
{
    /// <param name="before">The current week, with every display to be built.</param>
    /// <param name="after">The wanted week, with every display to be built.</param>
    /// <param name="excluded">The displays that the wanted week does not build.</param>
    /// <param name="replan">The published plan and the reports; null if nothing is published.</param>
    /// <returns>A sentence for each contradiction.</returns>
    public static IReadOnlyList<string> Contradictions(
        Week before, Week after, IReadOnlySet<string> excluded, Replan? replan) =>
        replan is null ? [] : [.. NightContradictions(before, after, replan)
            .Concat(ActivityContradictions(before, after, excluded, replan)).Distinct()];

    /// <summary>The ids of the tasks on which work has begun.</summary>
    public static IReadOnlySet<string> TasksOf(Replan? replan) => (replan?.Progress ?? []).Where(HasBegun)
        .Select(report => report.Task).OfType<string>().ToHashSet(StringComparer.Ordinal);

    private static IEnumerable<string> NightContradictions(Week before, Week after, Replan replan) =>
        from night in before.Nights
        where night.Opens <= replan.Now && after.Nights.All(other => other.Id != night.Id)
            && replan.Published.Nights.Any(planned => planned.Night == night.Id && planned.Shifts.Count > 0)
        select $"{Name(night)} has begun, so it cannot be dropped.";

    private static IEnumerable<string> ActivityContradictions(
        Week before, Week after, IReadOnlySet<string> excluded, Replan replan)
    {
        var planned = replan.Published.Nights.SelectMany(night => night.Work.Select(work => (night.Night, Work: work))).ToList();
        foreach (var report in replan.Progress.Where(HasBegun))
        {
            var (nightId, work) = planned.FirstOrDefault(entry => report.Task is { } task
                ? entry.Work.Task == task && entry.Work.Stint == report.Stint
                : entry.Work.CleanDown == report.CleanDown && entry.Night == report.Night);
            if (work is null) continue;
            var task = before.Tasks.FirstOrDefault(task => task.Id == report.Task);
            var name = task is not null ? $"“{task.Name}”"
                : $"the clean-down of {before.Store.Zones.FirstOrDefault(zone => zone.Id == report.CleanDown)?.Name}";
            if (NightOf(before, after, nightId, (report.From ?? work.From).ToInstant(), name) is { } night) yield return night;
            if (task is not null && TaskOf(before, after, excluded, task) is { } changed) yield return changed;
            if (report.CleanDown is { } cleaned
                && after.Store.Zones.FirstOrDefault(zone => zone.Id == cleaned) is { CleanDown: null } zone)
                yield return $"The clean-down of {zone.Name} has begun, so the zone keeps it.";
        }
    }

    private static bool HasBegun(ProgressReport report) => report.State != WorkState.Blocked || report.From is not null;

    private static string? NightOf(Week before, Week after, string planned, Instant start, string work)
    {
        var from = start.InZone(DateTimeZoneProviders.Tzdb[before.Store.TimeZone]).LocalDateTime;
        // The reported start decides in which night the work was done.
        var night = before.Nights.FirstOrDefault(night => Contains(night, from))
            ?? before.Nights.FirstOrDefault(night => night.Id == planned);
        if (night is null) return null;
        return after.Nights.FirstOrDefault(other => other.Id == night.Id) switch
        {
            null => $"{Name(night)} has begun with {work}, so it cannot be dropped.",
            var kept when Contains(night, from) && !Contains(kept, from) =>
                $"{Name(night)} has begun with {work} at {Phrases.Time(from)}, so its window has to contain that time.",
            _ => null,
        };
    }

    private static string? TaskOf(Week before, Week after, IReadOnlySet<string> excluded, WeekTask task)
    {
        var display = before.Displays.FirstOrDefault(display => display.Id == task.Display)?.Name ?? task.Display;
        if (after.Displays.All(other => other.Id != task.Display) || excluded.Contains(task.Display))
            return $"Work on “{display}” has begun, so it stays: let it be finished.";
        return after.Tasks.FirstOrDefault(other => other.Id == task.Id) switch
        {
            null => $"“{task.Name}” has begun, so it cannot be dropped.",
            var changed when !WeekParts.Same(ShapeOf(task), ShapeOf(changed)) =>
                $"“{task.Name}” has begun, so it keeps its display, its zone, its parts, and the people and equipment of its "
                + "modes.",
            _ => null,
        };
    }

    /// <summary>What of a task stays once it has begun.</summary>
    private static WeekTask ShapeOf(WeekTask task) => new()
    {
        Id = task.Id, Name = "", Display = task.Display, Zone = task.Zone, Stints = task.Stints,
        Modes = [.. task.Modes.Select(mode => mode with { Minutes = 1 })],
    };

    private static bool Contains(Night night, LocalDateTime time) => night.Opens <= time && time < night.Closes;

    private static string Name(Night night) => Phrases.Capitalised(Phrases.Night(night));
}
