using System.Collections.Frozen;

namespace SetWeek.Scheduling;

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
        ShiftGrid = week.Rules.ShiftGridMinutes is { } own ? CommonMultiple(own, week.GridMinutes) : week.GridMinutes;
        Launch = Grid.MinuteOf(week.Launch) - (week.Rules.LaunchBufferMinutes ?? 0);
        Skills = SkillsOf(week);
        skillsById = Index(Skills, skill => skill);
        nightsById = Index(week.Nights, night => night.Id);
        peopleById = Index(week.Crew, person => person.Id);
        zonesById = Index(week.Store.Zones, zone => zone.Id);
        displaysById = Index(week.Displays, display => display.Id);
        tasksById = Index(week.Tasks, task => task.Id);
        var equipment = Index(week.Store.Equipment, piece => piece.Id);

        Nights = [.. week.Nights.Select((night, index) => new NightWindow(
            index, night.Id, Grid.MinuteOf(night.Opens), Grid.MinuteOf(night.Closes),
            [.. night.Bans.Select(ban => new BanSpan(ban.Trait, new(Grid.MinuteOf(ban.From), Grid.MinuteOf(ban.To))))]))];
        Crew = [.. week.Crew.Select((member, index) => Person.Of(this, member, index))];
        Zones = [.. week.Store.Zones.Select((zone, index) => new ZoneRoom(index, zone.Id, zone.Name, zone.MaxPeople ?? Never,
            zone.CleanDown is { } down ? new Way(Grid.Up(down.Minutes), RolesOf(down.Roles), []) : null))];
        EquipmentCounts = [.. week.Store.Equipment.Select(piece => piece.Count)];

        var kits = new KitGate(week, Grid);
        var stint = 0;
        var activities = new Activity[week.Tasks.Count];
        for (var index = 0; index < activities.Length; index++)
        {
            var task = week.Tasks[index];
            activities[index] = new Activity
            {
                Index = index,
                Id = task.Id,
                Name = task.Name,
                Display = displaysById[task.Display],
                Zone = zonesById[task.Zone],
                FirstStint = stint,
                StintCount = task.Stints,
                Ways = [.. task.Modes.Select(mode => new Way(
                    StintMinutes(mode.Minutes, task.Stints),
                    RolesOf(mode.Roles),
                    [.. mode.Equipment.Select(use => new Pieces(equipment[use.Id], use.Count))]))],
                After = [.. task.After.Select(after => new Link(tasksById[after.Task], after.DryMinutes, after.SameNight))],
                Traits = task.Traits.ToFrozenSet(),
                KitsIn = kits.EarliestStart(task),
                Due = task.Due is { } due ? Nights[nightsById[due]].Closes : Never,
                Last = task.Last,
                ClosesZone = task.ClosesZoneMinutes,
            };
            stint += task.Stints;
        }
        Activities = activities;
        Stints = [.. activities.SelectMany(activity =>
            Enumerable.Range(0, activity.StintCount).Select(number => new Stint(activity.FirstStint + number, activity, number + 1)))];
        Displays = [.. week.Displays.Select((display, index) => new Exhibit(
            index, display.Id, display.Name, display.Commitment == Promise.Must, display.Value,
            display.Alternate is { } alternate ? displaysById[alternate.Display] : null, display.Alternate?.Value ?? 0,
            Instead(week, display.Id),
            [.. activities.Where(activity => activity.Display == index).Select(activity => activity.Index)]))];
        LastActivity = Array.Find(activities, activity => activity.Last);
        Facts = replan is null ? null : Facts.Of(this, replan);
    }

    public Week Week { get; }
    public RuleSet Rules { get; }
    public Grid Grid { get; }

    /// <summary>Shifts start and end on this grid, in minutes after their night's opens (and on <see cref="Grid"/> too).</summary>
    public int ShiftGrid { get; }

    /// <summary>Minute by which all work ends, the buffer taken off.</summary>
    public int Launch { get; }

    public IReadOnlyList<string> Skills { get; }
    public IReadOnlyList<NightWindow> Nights { get; }
    public IReadOnlyList<Person> Crew { get; }
    public IReadOnlyList<ZoneRoom> Zones { get; }
    public IReadOnlyList<int> EquipmentCounts { get; }
    public IReadOnlyList<Activity> Activities { get; }
    public IReadOnlyList<Stint> Stints { get; }
    public IReadOnlyList<Exhibit> Displays { get; }
    public Activity? LastActivity { get; }

    /// <summary>What the facts were read from; null for a first plan.</summary>
    public Replan? Replan { get; }

    /// <summary>What has happened and what was published; null for a first plan.</summary>
    public Facts? Facts { get; }

    /// <summary>The goals that count: those of a re-plan where there are facts.</summary>
    public IReadOnlyList<GoalChoice> Goals => Facts is null ? Week.Goals : Week.ReplanGoals;

    /// <param name="week">A valid week.</param>
    /// <param name="replan">A re-plan that <see cref="Files.ReplanFile"/> found no fault with.</param>
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
    public int MinutesOf(Stint stint, int mode) => Facts?.Remaining[stint.Index] ?? stint.Task.Ways[mode].Minutes;

    /// <summary>First moment on the night's grid at or after a minute.</summary>
    public int NextSlot(int night, int minute)
    {
        var opens = Nights[night].Opens;
        return minute <= opens ? opens : opens + Grid.Up(minute - opens);
    }

    /// <summary>First moment at or after a minute at which a shift of the night may start or end.</summary>
    public int NextShiftSlot(int night, int minute)
    {
        var opens = Nights[night].Opens;
        return minute <= opens ? opens : opens + (minute - opens + ShiftGrid - 1) / ShiftGrid * ShiftGrid;
    }

    /// <summary>Last moment at which a shift of the night may end.</summary>
    public int LastShiftSlot(int night) => NextShiftSlot(night, Nights[night].Closes + 1) - ShiftGrid;

    /// <summary>What a work needs: the way that its mode names, or its zone's clean-down; null where there is no such way.</summary>
    public Way? WayOf(Work work) =>
        work.Stint is not { } stint ? Zones[work.Zone].CleanDown
        : work.Mode >= 0 && work.Mode < Stints[stint].Task.Ways.Count ? Stints[stint].Task.Ways[work.Mode] : null;

    private static int CommonMultiple(int one, int other)
    {
        var (a, b) = (one, other);
        while (b != 0) (a, b) = (b, a % b);
        return one / a * other;
    }

    private static FrozenDictionary<string, int> Index<T>(IReadOnlyList<T> items, Func<T, string> id) =>
        Enumerable.Range(0, items.Count).ToFrozenDictionary(index => id(items[index]), index => index);

    private static string[] SkillsOf(Week week) =>
        [.. week.Crew.SelectMany(member => member.Skills.Keys)
            .Concat(week.Tasks.SelectMany(task => task.Modes).SelectMany(mode => mode.Roles).Select(role => role.Skill))
            .Concat(week.Store.Zones.SelectMany(zone => zone.CleanDown?.Roles ?? []).Select(role => role.Skill))
            .Distinct().Order(StringComparer.Ordinal)];

    private static int? Instead(Week week, string display)
    {
        for (var index = 0; index < week.Displays.Count; index++)
            if (week.Displays[index].Alternate?.Display == display) return index;
        return null;
    }

    private Post[] RolesOf(IReadOnlyList<Role> roles) =>
        [.. roles.Select(role => new Post(skillsById[role.Skill], role.Level, role.People))];

    private int StintMinutes(int minutes, int stints)
    {
        var unit = stints * Grid.Minutes;
        return (minutes + unit - 1) / unit * Grid.Minutes;
    }
}

public readonly record struct Span(int From, int To)
{
    public int Minutes => To - From;
    public bool Overlaps(Span other) => From < other.To && other.From < To;
    public bool Contains(Span other) => From <= other.From && other.To <= To;
}

public sealed record NightWindow(int Index, string Id, int Opens, int Closes, IReadOnlyList<BanSpan> Bans)
{
    public Span Span => new(Opens, Closes);
}

public readonly record struct BanSpan(string Trait, Span Span);

/// <summary>CleanDown null: the zone defines none.</summary>
public sealed record ZoneRoom(int Index, string Id, string Name, int MaxPeople, Way? CleanDown);

/// <summary>One way of doing a stint (a mode of its task) or a clean-down: its length on the grid, in minutes, and what it takes.</summary>
public sealed record Way(int Minutes, IReadOnlyList<Post> Posts, IReadOnlyList<Pieces> Equipment)
{
    public int People { get; } = Posts.Sum(post => post.People);
}

/// <summary>People wanted of one skill, at a level or above.</summary>
public readonly record struct Post(int Skill, int Level, int People);

public readonly record struct Pieces(int Equipment, int Count);

/// <summary>This task starts no earlier than the end of that one, plus its drying; same night where asked.</summary>
public readonly record struct Link(int Task, int DryMinutes, bool SameNight);

/// <summary>A task, ids resolved ("activity" in the scheduling literature; Task is taken in .NET).</summary>
public sealed record Activity
{
    public required int Index { get; init; }
    public required string Id { get; init; }
    public required string Name { get; init; }
    public required int Display { get; init; }
    public required int Zone { get; init; }

    /// <summary>Its stints are those from here in <see cref="Problem.Stints"/>.</summary>
    public required int FirstStint { get; init; }

    public required int StintCount { get; init; }
    public int LastStint => FirstStint + StintCount - 1;
    public required IReadOnlyList<Way> Ways { get; init; }
    public required IReadOnlyList<Link> After { get; init; }
    public required FrozenSet<string> Traits { get; init; }

    /// <summary>Minute from which every kit it needs is in; <see cref="Problem.Never"/> where a kit bars it.</summary>
    public required int KitsIn { get; init; }

    /// <summary>Minute by which it ends; <see cref="Problem.Never"/> where it has no due.</summary>
    public required int Due { get; init; }

    public required bool Last { get; init; }

    /// <summary>Minutes after its last stint in which its zone stays closed; 0 for none.</summary>
    public required int ClosesZone { get; init; }
}

/// <summary>A part of a task done in one go; Number counts from 1.</summary>
public sealed record Stint(int Index, Activity Task, int Number)
{
    public bool IsLast => Number == Task.StintCount;
}

/// <summary>A display. Alternate: what may stand instead of it; InsteadOf: the display that it may replace, itself being an alternate.</summary>
public sealed record Exhibit(
    int Index, string Id, string Name, bool Must, int Value, int? Alternate, int AlternateValue, int? InsteadOf, IReadOnlyList<int> Tasks);
