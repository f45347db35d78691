using System.Collections.Frozen;
using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Problems;

/// <summary>
/// A week in the form that rules, goals and search use: ids are replaced by indexes, local times by minutes since the first
/// night opens. Values derived from the week alone are computed once. All spans are half-open.
/// </summary>
public sealed class Problem
{
    /// <summary>
    /// A minute that never comes, for an unknown eta or a missing due. Sums of a few such values do not overflow.
    /// </summary>
    public const int Never = int.MaxValue / 4;

    private readonly FrozenDictionary<string, int> tasksById, peopleById, nightsById, zonesById, displaysById, skillsById;

    private Problem(Week week, Replan? replan)
    {
        Week = week;
        Replan = replan;
        Rules = week.Rules;
        Grid = new Grid(week.Store.TimeZone, week.Nights[0].Opens, week.GridMinutes);
        ShiftGridMinutes = week.Rules.ShiftGridMinutes is { } shiftGrid
            ? LeastCommonMultiple(shiftGrid, week.GridMinutes) : week.GridMinutes;
        Launch = Grid.MinuteOf(week.Launch) - (week.Rules.LaunchBufferMinutes ?? 0);
        Skills = SkillsOf(week);
        skillsById = IndexById(Skills, skill => skill);
        nightsById = IndexById(week.Nights, night => night.Id);
        peopleById = IndexById(week.Crew, person => person.Id);
        zonesById = IndexById(week.Store.Zones, zone => zone.Id);
        displaysById = IndexById(week.Displays, display => display.Id);
        tasksById = IndexById(week.Tasks, task => task.Id);

        Nights = [.. week.Nights.Select((night, index) => NightWindowOf(night, index))];
        Crew = [.. week.Crew.Select((member, index) => Person.Of(this, member, index))];
        Zones = [.. week.Store.Zones.Select((zone, index) => new IndexedZone(index, zone.Id, zone.Name, zone.MaxPeople ?? Never,
            zone.CleanDown is { } down ? new ActivityMode(Grid.RoundUp(down.Minutes), RequiredSkillsOf(down.Roles), []) : null,
            zone.TradePerDay))];
        EquipmentCapacities = [.. week.Store.Equipment.Select(piece => piece.Count)];

        Tasks = IndexTasks(week);
        Stints = [.. Tasks.SelectMany(task =>
            Enumerable.Range(1, task.StintCount)
                .Select(number => new Stint(task.FirstStint + number - 1, task, number)))];
        Displays = [.. week.Displays.Select((display, index) => new IndexedDisplay(
            index, display.Id, display.Name, display.Commitment == DisplayCommitment.Must, display.Value,
            display.Alternate is { } alternate ? displaysById[alternate.Display] : null, display.Alternate?.Value ?? 0,
            AlternateOf(week, display.Id),
            [.. Tasks.Where(task => task.Display == index).Select(task => task.Index)]))];
        LastTask = Tasks.FirstOrDefault(task => task.IsLastTask);
        Pins = new IndexedPins(this);
        Facts = replan is null ? null : ReplanFacts.Of(this, replan);
    }

    /// <summary>The week file.</summary>
    public Week Week { get; }

    /// <summary>The parameters of the rules.</summary>
    public RuleSet Rules { get; }

    /// <summary>Conversion between times and minutes, and the slots.</summary>
    public Grid Grid { get; }

    /// <summary>
    /// Length in minutes of a slot of the shift grid, a whole number of slots of <see cref="Grid"/>. It starts at each
    /// night's opens.
    /// </summary>
    public int ShiftGridMinutes { get; }

    /// <summary>Minute by which all work ends: the launch less its buffer.</summary>
    public int Launch { get; }

    /// <summary>All skills that a person has or work requires, in ordinal order.</summary>
    public IReadOnlyList<string> Skills { get; }

    /// <summary>The nights, in time order.</summary>
    public IReadOnlyList<NightWindow> Nights { get; }

    /// <summary>The people, in the order of the week file.</summary>
    public IReadOnlyList<Person> Crew { get; }

    /// <summary>The zones, in the order of the week file.</summary>
    public IReadOnlyList<IndexedZone> Zones { get; }

    /// <summary>Number of pieces by kind of equipment, in the order of the week file.</summary>
    public IReadOnlyList<int> EquipmentCapacities { get; }

    /// <summary>The tasks, in the order of the week file.</summary>
    public IReadOnlyList<IndexedTask> Tasks { get; }

    /// <summary>The stints of all tasks, task by task, each task's in order.</summary>
    public IReadOnlyList<Stint> Stints { get; }

    /// <summary>The displays, in the order of the week file.</summary>
    public IReadOnlyList<IndexedDisplay> Displays { get; }

    /// <summary>The task before which all other work ends; null if the week has none.</summary>
    public IndexedTask? LastTask { get; }

    /// <summary>What somebody has fixed of the plan.</summary>
    public IndexedPins Pins { get; }

    /// <summary>The input of the re-plan; null for a first plan.</summary>
    public Replan? Replan { get; }

    /// <summary>What a re-plan cannot change any more; null for a first plan.</summary>
    public ReplanFacts? Facts { get; }

    /// <summary>The goals to optimise, most important first: those of a re-plan if there are facts.</summary>
    public IReadOnlyList<GoalChoice> Goals => Facts is null ? Week.Goals : Week.ReplanGoals;

    /// <summary>Position of a goal in <see cref="Goals"/>; -1 if it is not asked for.</summary>
    public int PositionOf(GoalId goal)
    {
        for (var at = 0; at < Goals.Count; at++) if (Goals[at].Goal == goal) return at;
        return -1;
    }

    /// <summary>Indexes a week.</summary>
    /// <param name="week">A valid week, see <see cref="WeekFile"/>.</param>
    /// <param name="replan">Input that <see cref="ReplanFile"/> accepts for this week; null for a first plan.</param>
    public static Problem Of(Week week, Replan? replan = null) => new(week, replan);

    /// <summary>Index of the task with this id.</summary>
    /// <exception cref="KeyNotFoundException">The week has no such task.</exception>
    public int TaskOf(string id) => tasksById[id];

    /// <summary>Index of the person with this id.</summary>
    /// <exception cref="KeyNotFoundException">The week has no such person.</exception>
    public int PersonOf(string id) => peopleById[id];

    /// <summary>Index of the night with this id.</summary>
    /// <exception cref="KeyNotFoundException">The week has no such night.</exception>
    public int NightOf(string id) => nightsById[id];

    /// <summary>Index of the zone with this id.</summary>
    /// <exception cref="KeyNotFoundException">The week has no such zone.</exception>
    public int ZoneOf(string id) => zonesById[id];

    /// <summary>Index of the display with this id.</summary>
    /// <exception cref="KeyNotFoundException">The week has no such display.</exception>
    public int DisplayOf(string id) => displaysById[id];

    /// <summary>Index of the skill; -1 if nobody has it and no work requires it.</summary>
    public int SkillOf(string skill) => skillsById.GetValueOrDefault(skill, -1);

    /// <summary>True if the week has a task with this id.</summary>
    public bool HasTask(string id) => tasksById.ContainsKey(id);

    /// <summary>True if the crew has a person with this id.</summary>
    public bool HasPerson(string id) => peopleById.ContainsKey(id);

    /// <summary>True if the week has a night with this id.</summary>
    public bool HasNight(string id) => nightsById.ContainsKey(id);

    /// <summary>True if the store has a zone with this id.</summary>
    public bool HasZone(string id) => zonesById.ContainsKey(id);

    /// <summary>
    /// Duration in minutes of a stint in a mode: the mode's, or what remains of blocked work that had begun.
    /// </summary>
    public int MinutesOf(Stint stint, int mode) => Facts?.RemainingMinutes[stint.Index] ?? stint.Task.Modes[mode].Minutes;

    /// <summary>First minute on the night's grid at or after the given one.</summary>
    public int NextSlot(int night, int minute)
    {
        var opens = Nights[night].Opens;
        return minute <= opens ? opens : opens + Grid.RoundUp(minute - opens);
    }

    /// <summary>First minute on the night's shift grid at or after the given one.</summary>
    public int NextShiftSlot(int night, int minute)
    {
        var opens = Nights[night].Opens;
        return minute <= opens ? opens : opens + (minute - opens + ShiftGridMinutes - 1) / ShiftGridMinutes * ShiftGridMinutes;
    }

    /// <summary>Last minute on the night's shift grid that is not after its closes.</summary>
    public int LastShiftSlot(int night) => NextShiftSlot(night, Nights[night].Closes + 1) - ShiftGridMinutes;

    /// <summary>
    /// The mode of scheduled work, or its zone's clean-down; null if the task has no such mode or the zone no clean-down.
    /// </summary>
    public ActivityMode? ModeOf(ScheduledWork work) =>
        work.Stint is not { } stint ? Zones[work.Zone].CleanDown
        : work.Mode >= 0 && work.Mode < Stints[stint].Task.Modes.Count ? Stints[stint].Task.Modes[work.Mode] : null;

    /// <summary>The night with its bans, of which only the parts within the night count.</summary>
    private NightWindow NightWindowOf(Night night, int index)
    {
        var window = new Span(Grid.MinuteOf(night.Opens), Grid.MinuteOf(night.Closes));
        return new NightWindow(index, night.Id, window.From, window.To,
            [.. night.Bans
                .Select(ban => new BanSpan(
                    ban.Trait, new Span(Grid.MinuteOf(ban.From), Grid.MinuteOf(ban.To)).Clip(window)))
                .Where(ban => ban.Span.Minutes > 0)]);
    }

    private IndexedTask[] IndexTasks(Week week)
    {
        var (kits, equipment) = (new KitReleases(week, Grid), IndexById(week.Store.Equipment, piece => piece.Id));
        var stint = 0;
        var tasks = new IndexedTask[week.Tasks.Count];
        for (var index = 0; index < tasks.Length; index++)
        {
            var task = week.Tasks[index];
            tasks[index] = new IndexedTask
            {
                Index = index,
                Id = task.Id,
                Name = task.Name,
                Display = displaysById[task.Display],
                Zone = zonesById[task.Zone],
                FirstStint = stint,
                StintCount = task.Stints,
                Modes = [.. task.Modes.Select(mode => new ActivityMode(
                    StintMinutes(mode.Minutes, task.Stints),
                    RequiredSkillsOf(mode.Roles),
                    [.. mode.Equipment.Select(use => new EquipmentDemand(equipment[use.Id], use.Count))]))],
                Precedences = [.. task.After.Select(precedence =>
                    new Precedence(tasksById[precedence.Task], precedence.DryMinutes, precedence.SameNight))],
                Traits = task.Traits.ToFrozenSet(),
                Company = week.Rules.Company.Where(company => task.Traits.Contains(company.Trait))
                    .MaxBy(company => company.People),
                Release = kits.ReleaseOf(task),
                Due = task.Due is { } due ? Nights[nightsById[due]].Closes : Never,
                IsLastTask = task.Last,
                Empties = task.Empties,
                Fills = task.Fills,
                ClosesZoneMinutes = task.ClosesZoneMinutes,
            };
            stint += task.Stints;
        }
        return tasks;
    }

    private static int LeastCommonMultiple(int first, int second)
    {
        var (a, b) = (first, second);
        while (b != 0) (a, b) = (b, a % b);
        return first / a * second;
    }

    private static FrozenDictionary<string, int> IndexById<T>(IReadOnlyList<T> items, Func<T, string> id) =>
        Enumerable.Range(0, items.Count).ToFrozenDictionary(index => id(items[index]), index => index);

    private static string[] SkillsOf(Week week) =>
        [.. week.Crew.SelectMany(member => member.Skills.Keys)
            .Concat(week.Tasks.SelectMany(task => task.Modes).SelectMany(mode => mode.Roles).Select(role => role.Skill))
            .Concat(week.Store.Zones.SelectMany(zone => zone.CleanDown?.Roles ?? []).Select(role => role.Skill))
            .Distinct().Order(StringComparer.Ordinal)];

    private static int? AlternateOf(Week week, string display)
    {
        for (var index = 0; index < week.Displays.Count; index++)
            if (week.Displays[index].Alternate?.Display == display) return index;
        return null;
    }

    private RequiredSkill[] RequiredSkillsOf(IReadOnlyList<SkillRequirement> requirements) =>
        [.. requirements.Select(role => new RequiredSkill(skillsById[role.Skill], role.Level, role.People))];

    private int StintMinutes(int minutes, int stints)
    {
        var unit = stints * Grid.SlotMinutes;
        return (minutes + unit - 1) / unit * Grid.SlotMinutes;
    }
}

/// <summary>A zone of the store.</summary>
/// <param name="Index">Position in <see cref="Problem.Zones"/>.</param>
/// <param name="Id">Id in the week file.</param>
/// <param name="Name">Name that people read.</param>
/// <param name="MaxPeople">Largest number of people at work in it at once; <see cref="Problem.Never"/> means no limit.</param>
/// <param name="CleanDown">The clean-down after work in it; null means none.</param>
/// <param name="TradePerDay">What it sells in a day, in minor units of the currency.</param>
public sealed record IndexedZone(
    int Index, string Id, string Name, int MaxPeople, ActivityMode? CleanDown, int TradePerDay);

/// <summary>A display, or an alternate of one.</summary>
/// <param name="Index">Position in <see cref="Problem.Displays"/>.</param>
/// <param name="Id">Id in the week file.</param>
/// <param name="Name">Name that people read.</param>
/// <param name="Must">True if the display or its alternate has to be built.</param>
/// <param name="Value">What leaving it out adds to the goal leftOut.</param>
/// <param name="Alternate">Index of the display that may be built instead; null means none.</param>
/// <param name="AlternateValue">What building the alternate instead adds to the goal leftOut.</param>
/// <param name="AlternateOf">Index of the display that this one may replace; null if it is no alternate.</param>
/// <param name="Tasks">Indexes of the tasks that build it.</param>
public sealed record IndexedDisplay(
    int Index, string Id, string Name, bool Must, int Value, int? Alternate, int AlternateValue, int? AlternateOf,
    IReadOnlyList<int> Tasks);
