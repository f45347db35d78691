using SetWeek.Domain.Stores;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Directions;

/// <summary>Scopes a direction to a store: decides which displays and tasks the week of the store gets.</summary>
public sealed class Scoping
{
    private readonly Direction direction;
    private readonly StoreProfile store;
    private readonly Dictionary<string, DirectedDisplay> directed;
    private readonly List<Display> displays = [];
    private readonly List<ScopingDecision> decisions = [];

    private Scoping(Direction direction, StoreProfile store) =>
        (this.direction, this.store, directed) = (direction, store, direction.Displays.ToDictionary(display => display.Id));

    public static ScopedDirection Of(Direction direction, StoreProfile store) => new Scoping(direction, store).Scoped();

    private ScopedDirection Scoped()
    {
        var alternates = direction.Displays.Select(display => display.Alternate?.Display).ToHashSet();
        foreach (var display in direction.Displays.Where(display => !alternates.Contains(display.Id))) Place(display);

        var placed = displays.Select(display => display.Id).ToHashSet();
        var tasks = direction.Tasks.Where(task => placed.Contains(task.Display)).ToList();
        var kept = tasks.Select(task => task.Id).ToHashSet();
        return new ScopedDirection(
            [.. displays.OrderBy(display => direction.Displays.TakeWhile(directed => directed.Id != display.Id).Count())],
            [.. tasks.Select(task => task with
            {
                Zone = ZoneFor(task.Zone)!, After = [.. task.After.Where(precedence => kept.Contains(precedence.Task))],
            })],
            [.. SentKits(tasks)], decisions)
        {
            MustBeShown = [.. direction.Displays.Where(display => display.MustBeShown && placed.Contains(display.Id))
                .Select(display => display.Id)],
        };
    }

    /// <summary>
    /// The kits that some remaining task needs. A line that only tasks of removed displays name is not sent, unless a remaining
    /// task needs the whole kit. A line that no task of the direction names is sent with its kit.
    /// </summary>
    private IEnumerable<DirectedKit> SentKits(IReadOnlyList<WeekTask> kept) =>
        from kit in direction.Kits
        let needed = NeedsOf(kept, kit).Select(need => need.Item).ToHashSet()
        where needed.Count > 0
        let left = NeedsOf(direction.Tasks, kit).Select(need => need.Item).Where(item => !needed.Contains(item)).ToHashSet()
        select needed.Contains(null) ? kit : kit with { Lines = [.. kit.Lines.Where(line => !left.Contains(line.Item))] };

    private static IEnumerable<KitRequirement> NeedsOf(IReadOnlyList<WeekTask> tasks, DirectedKit kit) =>
        tasks.SelectMany(task => task.Needs).Where(need => need.Kit == kit.Id);

    private void Place(DirectedDisplay display)
    {
        var alternate = display.Alternate is { } named ? directed[named.Display] : null;
        var alternateObstacle = alternate is null ? null : Obstacle(alternate);
        if (Obstacle(display) is not { } obstacle)
        {
            Add(display, display, alternateObstacle is null ? display.Alternate : null);
            if (alternate is not null && alternateObstacle is null) Add(alternate, alternate, null);
            else if (alternate is not null)
                Decide(display, ScopingOutcome.NoAlternate,
                    $"“{alternate.Name}” cannot replace “{display.Name}” in this store: {alternateObstacle}.");
            return;
        }
        if (alternate is not null && alternateObstacle is null)
        {
            Add(alternate, display, null);
            Decide(display, ScopingOutcome.Alternate, $"“{alternate.Name}” replaces “{display.Name}”: {obstacle}.");
        }
        else
        {
            Decide(display, ScopingOutcome.Dropped, alternate is null
                ? $"“{display.Name}” is dropped: {obstacle}, and the direction names no alternate."
                : $"“{display.Name}” is dropped: {obstacle}. “{alternate.Name}” cannot replace it: {alternateObstacle}.");
        }
    }

    /// <param name="promised">
    /// The display whose commitment and value count: an alternate takes over those of the display it replaces.
    /// </param>
    private void Add(DirectedDisplay display, DirectedDisplay promised, Alternate? alternate)
    {
        displays.Add(new Display(display.Id, display.Name, promised.Commitment)
        {
            Value = promised.Value, Alternate = alternate,
        });
        foreach (var zone in TasksOf(display).Select(task => task.Zone).Distinct().Where(zone => ZoneFor(zone) != zone))
        {
            var substitute = store.Zones.First(own => own.Id == ZoneFor(zone)).Name;
            Decide(display, ScopingOutcome.Elsewhere,
                $"“{display.Name}” is built in {substitute}: {store.Name} has no {NameOf(zone)}.");
        }
    }

    /// <summary>Why the store cannot build a display, as a clause; null if it can.</summary>
    private string? Obstacle(DirectedDisplay display)
    {
        var missing = display.Requires.Except(store.Features).ToList();
        if (missing.Count > 0) return $"{store.Name} has no {Phrases.List(missing)}";
        var missingZone = TasksOf(display).Select(task => task.Zone).FirstOrDefault(zone => ZoneFor(zone) is null);
        return missingZone is null ? null : $"{store.Name} has no {NameOf(missingZone)}";
    }

    private IEnumerable<WeekTask> TasksOf(DirectedDisplay display) => direction.Tasks.Where(task => task.Display == display.Id);

    /// <summary>The zone of the store with that id, or the first substitute that the store has; null if it has neither.</summary>
    private string? ZoneFor(string zone) =>
        new[] { zone }.Concat(direction.Zones.FirstOrDefault(directed => directed.Id == zone)?.Or ?? [])
            .FirstOrDefault(id => store.Zones.Any(own => own.Id == id));

    private string NameOf(string zone) => direction.Zones.FirstOrDefault(directed => directed.Id == zone)?.Name ?? zone;

    private void Decide(DirectedDisplay display, ScopingOutcome outcome, string sentence) =>
        decisions.Add(new ScopingDecision(display.Id, outcome, sentence));
}
