using System.Collections.Frozen;
using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Model.Time;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Problems;

/// <summary>
/// A week as rules, goals and search read it: ids are indexes, local times are minutes since the first night opens, and
/// what follows from the week alone is worked out once. All spans are half-open.
/// </summary>
public sealed class Problem
{
    /// <summary>Stands for "never" where a minute is asked: no eta, no due.</summary>
    public const int Never = int.MaxValue / 4;

    private readonly FrozenDictionary<string, int> tasksById, peopleById, nightsById, zonesById, displaysById, skillsById;

    private Problem(Week week, Replan? replan)
    {
        Week = week;
        Replan = replan;
        Rules = week.Rules;
        Grid = new Grid(week.Store.TimeZone, week.Nights[0].Opens, week.GridMinutes);
        ShiftGridMinutes = week.Rules.ShiftGridMinutes is { } own ? LeastCommonMultiple(own, week.GridMinutes) : week.GridMinutes;
        Launch = Grid.MinuteOf(week.Launch) - (week.Rules.LaunchBufferMinutes ?? 0);
        Skills = SkillsOf(week);
        skillsById = IndexById(Skills, skill => skill);
        nightsById = IndexById(week.Nights, night => night.Id);
        peopleById = IndexById(week.Crew, person => person.Id);
        zonesById = IndexById(week.Store.Zones, zone => zone.Id);
        displaysById = IndexById(week.Displays, display => display.Id);
        tasksById = IndexById(week.Tasks, task => task.Id);

        Nights = [.. week.Nights.Select((night, index) => new NightWindow(
            index, night.Id, Grid.MinuteOf(night.Opens), Grid.MinuteOf(night.Closes),
            [.. night.Bans.Select(ban => new BanSpan(ban.Trait, new(Grid.MinuteOf(ban.From), Grid.MinuteOf(ban.To))))]))];
        Crew = [.. week.Crew.Select((member, index) => Person.Of(this, member, index))];
        Zones = [.. week.Store.Zones.Select((zone, index) => new IndexedZone(index, zone.Id, zone.Name, zone.MaxPeople ?? Never,
            zone.CleanDown is { } down ? new ActivityMode(Grid.RoundUp(down.Minutes), RequiredSkillsOf(down.Roles), []) : null))];
        EquipmentCapacities = [.. week.Store.Equipment.Select(piece => piece.Count)];

        Tasks = IndexTasks(week);
        Stints = [.. Tasks.SelectMany(activity =>
            Enumerable.Range(1, activity.StintCount)
                .Select(number => new Stint(activity.FirstStint + number - 1, activity, number)))];
        Displays = [.. week.Displays.Select((display, index) => new IndexedDisplay(
            index, display.Id, display.Name, display.Commitment == DisplayCommitment.Must, display.Value,
            display.Alternate is { } alternate ? displaysById[alternate.Display] : null, display.Alternate?.Value ?? 0,
            AlternateOf(week, display.Id),
            [.. Tasks.Where(activity => activity.Display == index).Select(activity => activity.Index)]))];
        LastTask = Tasks.FirstOrDefault(activity => activity.IsLastTask);
        Facts = replan is null ? null : ReplanFacts.Of(this, replan);
    }

    public Week Week { get; }
    public RuleSet Rules { get; }
    public Grid Grid { get; }

    /// <summary>
    /// Shifts start and end on this grid, in minutes after their night's opens (and on <see cref="Grid"/> too).
    /// </summary>
    public int ShiftGridMinutes { get; }

    /// <summary>Minute by which all work ends, the buffer taken off.</summary>
    public int Launch { get; }

    public IReadOnlyList<string> Skills { get; }
    public IReadOnlyList<NightWindow> Nights { get; }
    public IReadOnlyList<Person> Crew { get; }
    public IReadOnlyList<IndexedZone> Zones { get; }
    public IReadOnlyList<int> EquipmentCapacities { get; }
    public IReadOnlyList<IndexedTask> Tasks { get; }
    public IReadOnlyList<Stint> Stints { get; }
    public IReadOnlyList<IndexedDisplay> Displays { get; }
    public IndexedTask? LastTask { get; }

    /// <summary>What the facts were read from; null for a first plan.</summary>
    public Replan? Replan { get; }

    /// <summary>What has happened and what was published; null for a first plan.</summary>
    public ReplanFacts? Facts { get; }

    /// <summary>The goals that count: those of a re-plan where there are facts.</summary>
    public IReadOnlyList<GoalChoice> Goals => Facts is null ? Week.Goals : Week.ReplanGoals;

    /// <param name="week">A valid week.</param>
    /// <param name="replan">A re-plan that <see cref="ReplanFile"/> found no fault with.</param>
    public static Problem Of(Week week, Replan? replan = null) => new(week, replan);

    public int TaskOf(string id) => tasksById[id];
    public int PersonOf(string id) => peopleById[id];
    public int NightOf(string id) => nightsById[id];
    public int ZoneOf(string id) => zonesById[id];
    public int DisplayOf(string id) => displaysById[id];

    /// <summary>-1 where nothing asks for the skill and nobody has it.</summary>
    public int SkillOf(string skill) => skillsById.GetValueOrDefault(skill, -1);

    public bool HasTask(string id) => tasksById.ContainsKey(id);
    public bool HasPerson(string id) => peopleById.ContainsKey(id);
    public bool HasNight(string id) => nightsById.ContainsKey(id);
    public bool HasZone(string id) => zonesById.ContainsKey(id);

    /// <summary>Minutes that a stint lasts in a mode: its way's, or what remains of it.</summary>
    public int MinutesOf(Stint stint, int mode) => Facts?.RemainingMinutes[stint.Index] ?? stint.Task.Modes[mode].Minutes;

    /// <summary>First moment on the night's grid at or after a minute.</summary>
    public int NextSlot(int night, int minute)
    {
        var opens = Nights[night].Opens;
        return minute <= opens ? opens : opens + Grid.RoundUp(minute - opens);
    }

    /// <summary>First moment at or after a minute at which a shift of the night may start or end.</summary>
    public int NextShiftSlot(int night, int minute)
    {
        var opens = Nights[night].Opens;
        return minute <= opens ? opens : opens + (minute - opens + ShiftGridMinutes - 1) / ShiftGridMinutes * ShiftGridMinutes;
    }

    /// <summary>Last moment at which a shift of the night may end.</summary>
    public int LastShiftSlot(int night) => NextShiftSlot(night, Nights[night].Closes + 1) - ShiftGridMinutes;

    /// <summary>
    /// What a work needs: the way that its mode names, or its zone's clean-down; null where there is no such way.
    /// </summary>
    public ActivityMode? ModeOf(ScheduledWork work) =>
        work.Stint is not { } stint ? Zones[work.Zone].CleanDown
        : work.Mode >= 0 && work.Mode < Stints[stint].Task.Modes.Count ? Stints[stint].Task.Modes[work.Mode] : null;

    private IndexedTask[] IndexTasks(Week week)
    {
        var (kits, equipment) = (new KitReleases(week, Grid), IndexById(week.Store.Equipment, piece => piece.Id));
        var stint = 0;
        var activities = new IndexedTask[week.Tasks.Count];
        for (var index = 0; index < activities.Length; index++)
        {
            var task = week.Tasks[index];
            activities[index] = new IndexedTask
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
                Precedences = [.. task.After.Select(precedence => new Precedence(tasksById[precedence.Task], precedence.DryMinutes, precedence.SameNight))],
                Traits = task.Traits.ToFrozenSet(),
                Release = kits.ReleaseOf(task),
                Due = task.Due is { } due ? Nights[nightsById[due]].Closes : Never,
                IsLastTask = task.Last,
                ClosesZoneMinutes = task.ClosesZoneMinutes,
            };
            stint += task.Stints;
        }
        return activities;
    }

    private static int LeastCommonMultiple(int one, int other)
    {
        var (a, b) = (one, other);
        while (b != 0) (a, b) = (b, a % b);
        return one / a * other;
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

/// <summary>
/// MaxPeople at once, <see cref="Problem.Never"/> where any number fits; CleanDown null: the zone defines none.
/// </summary>
public sealed record IndexedZone(int Index, string Id, string Name, int MaxPeople, ActivityMode? CleanDown);

/// <summary>
/// A display. Alternate: what may stand instead of it; InsteadOf: the display that it may replace, itself being an alternate.
/// </summary>
public sealed record IndexedDisplay(
    int Index, string Id, string Name, bool Must, int Value, int? Alternate, int AlternateValue, int? AlternateOf,
    IReadOnlyList<int> Tasks);
