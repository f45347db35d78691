using SetWeek.Domain.Crews;
using SetWeek.Domain.PlannerInputs;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Changes;
using SetWeek.Model.Files;
using SetWeek.Model.Json;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Revisions;

/// <summary>
/// Compares an open week with a wanted one, part by part. The parts of both are the same lists as in a week file; parts that
/// nobody may change in an open week are faults.
/// </summary>
internal sealed class WeekComparison
{
    private readonly StoreWeek week;
    private readonly List<IWeekEvent> events = [];
    private readonly List<Fault> faults = [];
    private readonly List<Refusal> refusals = [];

    public WeekComparison(StoreWeek week, CrewFile crew, Week wanted, string by)
    {
        this.week = week;
        Before = PlanningProblem.WithCrew(week, crew);
        var choices = DisplayComparison.ChoicesOf(week, wanted);
        After = DisplayComparison.Restored(Before, DisplayExclusion.Lift(wanted), choices);
        faults.AddRange(FixedParts.Faults(Before, After));
        faults.AddRange(DisplayComparison.Faults(wanted, choices));
        ComparePlaces();
        Take(KitComparison.Of(week, Before, After));
        CompareDisplays(choices);
        CompareTasks(by);
        CompareTargets();
        var compared = CrewComparison.Of(week, crew, Before, After);
        Crew = compared.Crew;
        Take(compared.Result);
        events.AddRange(PinComparison.Of(week, crew, compared.Result.Events, After));
    }

    /// <summary>The current week, with every display to be built.</summary>
    public Week Before { get; }

    /// <summary>The wanted week, with every display to be built.</summary>
    public Week After { get; }

    public CrewFile Crew { get; }
    public IReadOnlyList<IWeekEvent> Events => events;
    public IReadOnlyList<Fault> Faults => faults;
    public IReadOnlyList<Refusal> Refusals => refusals;

    private void Take(PartialComparison part)
    {
        events.AddRange(part.Events);
        faults.AddRange(part.Faults);
        refusals.AddRange(part.Refusals);
    }

    private void ComparePlaces()
    {
        Compare(Before.Nights, After.Nights, night => night.Id, WeekParts.Same, night => new NightSet(night),
            id => new NightDropped(id));
        Compare(Before.Store.Zones, After.Store.Zones, zone => zone.Id, WeekParts.Same, zone => new ZoneSet(zone));
        Compare(Before.Store.Equipment, After.Store.Equipment, item => item.Id, (was, item) => was == item,
            item => new EquipmentSet(item));
    }

    private void CompareDisplays(IReadOnlyDictionary<string, DisplayChoice> choices)
    {
        Compare(Before.Displays, After.Displays, display => display.Id, WeekParts.Same, display => new DisplaySet(display),
            id => new DisplayDropped(id));
        foreach (var display in After.Displays)
            if (choices[display.Id] is var choice && choice != week.DisplayChoices.GetValueOrDefault(display.Id))
                events.Add(new DisplayChoiceSet(display.Id, choice));
    }

    private void CompareTasks(string by)
    {
        var before = Before.Tasks.ToDictionary(task => task.Id);
        var set = After.Tasks.Where(task => !before.TryGetValue(task.Id, out var was) || !WeekParts.Same(was, task)).ToList();
        var dropped = before.Keys.Except(After.Tasks.Select(task => task.Id)).ToList();
        if (set.Count + dropped.Count > 0)
            events.Add(new TasksRevised(week.Direction, week.DirectionVersion, null, TaskRevisionKind.Store, set, dropped, by));
    }

    private void CompareTargets()
    {
        if (Before.Launch != After.Launch) events.Add(new LaunchMoved(After.Launch));
        if (!WeekParts.Same(Before.Rules, After.Rules)) events.Add(new RulesSet(After.Rules));
        if (!Before.Goals.SequenceEqual(After.Goals) || !Before.ReplanGoals.SequenceEqual(After.ReplanGoals)
            || Before.Hold != After.Hold)
            events.Add(new GoalsSet(After.Goals, After.ReplanGoals, After.Hold));
    }

    private void Compare<T>(IReadOnlyList<T> before, IReadOnlyList<T> after, Func<T, string> id, Func<T, T, bool> same,
        Func<T, IWeekEvent> set, Func<string, IWeekEvent>? drop = null)
    {
        var known = before.ToDictionary(id);
        events.AddRange(after.Where(item => !known.TryGetValue(id(item), out var was) || !same(was, item)).Select(set));
        if (drop is not null) events.AddRange(known.Keys.Except(after.Select(id)).Select(drop));
    }
}

/// <summary>What the comparison of one part found.</summary>
/// <param name="Refusals">Facts that the wanted week contradicts.</param>
internal sealed record PartialComparison(
    IReadOnlyList<IWeekEvent> Events, IReadOnlyList<Fault> Faults, IReadOnlyList<Refusal> Refusals);
