using NodaTime;
using OneOf;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Directions;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Files;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Revisions;

/// <summary>
/// Takes a later version of the direction into an open week. It is a three-way merge: what the two versions of the direction
/// say alike stays as it is in the week, with what its lead has changed; what they say differently follows the later version.
/// Displays on which work has begun, and tasks that somebody added to the week, stay.
/// </summary>
/// <param name="Revision">The events.</param>
/// <param name="Kept">What stays although the later version changes it, a sentence each.</param>
public sealed record DirectionUpdate(WeekRevision Revision, IReadOnlyList<string> Kept)
{
    /// <param name="known">The version of the week, scoped to the store.</param>
    /// <param name="later">The later version, scoped to the store.</param>
    /// <param name="version">Its number.</param>
    /// <param name="now">Store-local.</param>
    /// <param name="by">The id of the person who decides.</param>
    public static OneOf<DirectionUpdate, Refusal, FaultReport> Of(StoreWeek week, CrewFile crew, ScopedDirection known,
        ScopedDirection later, long version, LocalDateTime now, string by)
    {
        var current = PlanningProblem.WithCrew(week, crew);
        var begun = BegunDisplays(current, PlanningProblem.Of(week, crew, now).Replan);
        var displays = Merge(current.Displays, known.Displays, later.Displays, display => display.Id, WeekParts.Same,
            display => begun.Contains(display.Id));
        var placed = displays.Select(display => display.Id).ToHashSet(StringComparer.Ordinal);
        var tasks = Merge(current.Tasks, known.Tasks, later.Tasks, task => task.Id, WeekParts.Same,
            task => begun.Contains(task.Display)).Where(task => placed.Contains(task.Display)).ToList();
        var ids = tasks.Select(task => task.Id).ToHashSet(StringComparer.Ordinal);
        var needed = tasks.SelectMany(task => task.Needs).Select(need => need.Kit).ToHashSet(StringComparer.Ordinal);
        var wanted = current with
        {
            Displays = [.. displays.Select(display => display.Alternate is { } alternate && !placed.Contains(alternate.Display)
                ? display with { Alternate = null } : display)],
            Tasks = [.. tasks.Select(task => task.After.All(precedence => ids.Contains(precedence.Task)) ? task
                : task with { After = [.. task.After.Where(precedence => ids.Contains(precedence.Task))] })],
            Kits = Kits(week, current, later, needed),
            Pins = [.. current.Pins.Where(pin => pin is not StintPin stint || ids.Contains(stint.Task))],
        };
        var choices = week.DisplayChoices.RemoveRange(week.DisplayChoices.Keys.Where(display => !placed.Contains(display)));
        return week.Revise(crew, PlanningProblem.Decided(wanted, choices), now, by).MapT0(revision => new DirectionUpdate(
            revision with
            {
                Events = Following(revision.Events, week.Direction, version, by, later.Decisions, MustBeShown(week, later)),
            },
            [.. KeptDisplays(current, wanted, later, begun)]));
    }

    /// <summary>The revision of the tasks names the later version, also if no task changed.</summary>
    private static List<IWeekEvent> Following(IReadOnlyList<IWeekEvent> events, string direction, long version, string by,
        IReadOnlyList<ScopingDecision> scoping, IReadOnlyList<string> mustBeShown)
    {
        var tasks = events.OfType<TasksRevised>().SingleOrDefault();
        return [.. events.Where(e => e is not TasksRevised),
            new TasksRevised(direction, version, null, TaskRevisionKind.Direction, tasks?.Set ?? [], tasks?.Dropped ?? [], by,
                scoping, mustBeShown)];
    }

    /// <summary>A display that the later version drops, and that stays, is shown as before.</summary>
    private static IReadOnlyList<string> MustBeShown(StoreWeek week, ScopedDirection later) =>
        [.. later.MustBeShown.Concat(week.MustBeShown.Where(display => later.Displays.All(other => other.Id != display)))
            .Order(StringComparer.Ordinal)];

    private static IReadOnlySet<string> BegunDisplays(Week current, Model.Plans.Replan? replan)
    {
        var begun = BegunWork.TasksOf(replan);
        return current.Tasks.Where(task => begun.Contains(task.Id)).Select(task => task.Display)
            .ToHashSet(StringComparer.Ordinal);
    }

    private static List<T> Merge<T>(IReadOnlyList<T> current, IReadOnlyList<T> known, IReadOnlyList<T> later,
        Func<T, string> id, Func<T, T, bool> same, Func<T, bool> begun) where T : class
    {
        var (before, after) = (known.ToDictionary(id, StringComparer.Ordinal), later.ToDictionary(id, StringComparer.Ordinal));
        var held = current.Select(id).ToHashSet(StringComparer.Ordinal);
        // Something that neither version has was added in the week, and something that only the earlier one has is dropped.
        return
        [
            .. current.Where(item => begun(item) || after.ContainsKey(id(item)) || !before.ContainsKey(id(item)))
                .Select(item => !begun(item) && after.TryGetValue(id(item), out var next)
                    && !(before.TryGetValue(id(item), out var was) && same(was, next)) ? next : item),
            // Something dropped in the week stays dropped unless the later version says something new about it.
            .. later.Where(item => !held.Contains(id(item))
                && !(before.TryGetValue(id(item), out var was) && same(was, item))),
        ];
    }

    private static IReadOnlyList<Kit> Kits(StoreWeek week, Week current, ScopedDirection later, HashSet<string> needed)
    {
        var shipped = later.Kits.ToDictionary(kit => kit.Id, StringComparer.Ordinal);
        return
        [
            .. current.Kits
                .Where(kit => shipped.ContainsKey(kit.Id) || needed.Contains(kit.Id) || week.Arrivals.ContainsKey(kit.Id))
                .Select(kit => week.Arrivals.ContainsKey(kit.Id) || !shipped.TryGetValue(kit.Id, out var next) ? kit
                    : new Kit(kit.Id, next.Name, kit.Eta)
                    {
                        Lines = [.. next.Lines.Select(line => kit.Lines.FirstOrDefault(own => own.Item == line.Item) is { } own
                            ? own with { Expected = line.Expected } : new KitLine(line.Item, line.Expected))],
                    }),
            .. later.Kits.ExceptBy(current.Kits.Select(kit => kit.Id), kit => kit.Id)
                .Select(kit => new Kit(kit.Id, kit.Name, null)
                {
                    Lines = [.. kit.Lines.Select(line => new KitLine(line.Item, line.Expected))],
                }),
        ];
    }

    private static IEnumerable<string> KeptDisplays(Week current, Week wanted, ScopedDirection later, IReadOnlySet<string> begun)
    {
        foreach (var display in current.Displays.Where(display => begun.Contains(display.Id)))
        {
            var next = later.Displays.FirstOrDefault(other => other.Id == display.Id);
            var tasks = wanted.Tasks.Where(task => task.Display == display.Id).ToList();
            if (next is null) yield return $"“{display.Name}” stays, because work on it has begun. The later version drops it.";
            else if (!WeekParts.Same(display, next) || later.Tasks.Where(task => task.Display == display.Id)
                .Any(task => tasks.All(own => own.Id != task.Id || !WeekParts.Same(own, task))))
                yield return $"“{display.Name}” stays as it was begun. The later version builds it differently.";
        }
    }
}
