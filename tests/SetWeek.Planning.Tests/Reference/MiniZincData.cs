using NodaTime;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Tests.Reference;

/// <summary>Writes a week as data of the reference model, directly from the week and independent of the planner.</summary>
/// <param name="week">A week that uses only what the model contains.</param>
/// <param name="published">For a re-plan made before the first night opens: the published plan.</param>
internal sealed class MiniZincData(Week week, Plan? published = null)
{
    public static readonly GoalId[] Goals =
    [
        GoalId.LeftOut, GoalId.Cost, GoalId.Finish, GoalId.Nights, GoalId.Shifts, GoalId.Bare, GoalId.Handovers, GoalId.Shuffled,
    ];

    private const int Never = 100_000, NoCap = 1_000_000;

    private readonly int slot = week.GridMinutes;
    private readonly string[] skills = [.. week.Crew.SelectMany(member => member.Skills.Keys)
        .Concat(AllRoles(week).Select(role => role.Skill)).Distinct().Order(StringComparer.Ordinal)];
    private readonly (Mode Mode, int Stints)[] modes =
        [.. week.Tasks.SelectMany(task => task.Modes.Select(mode => (mode, task.Stints))),
        .. week.Store.Zones.Where(zone => zone.CleanDown is not null)
            .Select(zone => (new Mode(zone.CleanDown!.Minutes, zone.CleanDown.Roles), 1))];

    /// <param name="goal">The goal to minimise.</param>
    /// <param name="caps">Upper limits of the goals before it.</param>
    public string For(GoalId goal, IReadOnlyDictionary<GoalId, long> caps) => string.Join("\n",
    [
        $"slot = {slot}; shiftStep = {Math.Max(1, (week.Rules.ShiftGridMinutes ?? slot) / slot)};",
        $"N = {week.Nights.Count};",
        $"P = {week.Crew.Count};",
        $"K = {skills.Length};",
        $"E = {week.Store.Equipment.Count};",
        $"Z = {week.Store.Zones.Count};",
        $"D = {week.Displays.Count}; T = {week.Tasks.Count}; M = {modes.Length}; S = {week.Tasks.Sum(task => task.Stints)};",
        $"opens = {List(week.Nights.Select(night => Exactly(night.Opens)))};",
        $"closes = {List(week.Nights.Select(night => Exactly(night.Closes)))};",
        $"launch = {RoundDown(week.Launch.PlusMinutes(-(week.Rules.LaunchBufferMinutes ?? 0)))};",
        $"room = {List(week.Store.Zones.Select(zone => zone.MaxPeople ?? 999))};",
        $"downMode = {List(week.Store.Zones.Select(DownMode))};",
        $"pieces = {List(week.Store.Equipment.Select(piece => piece.Count))};",
        $"must = {List(week.Displays.Select(display => Literal(display.Commitment == DisplayCommitment.Must)))};",
        $"worth = {List(week.Displays.Select(display => display.Value))};",
        $"display = {List(week.Tasks.Select(task => Index(week.Displays.Select(one => one.Id), task.Display)))};",
        $"zone = {List(week.Tasks.Select(task => Index(week.Store.Zones.Select(one => one.Id), task.Zone)))};",
        $"earliest = {List(week.Tasks.Select(task => task.Needs
            .Select(need => RoundUp(week.Kits.Single(kit => kit.Id == need.Kit).Eta!.Value)).Append(0).Max()))};",
        $"due = {List(week.Tasks.Select(task => task.Due is { } due
            ? Exactly(week.Nights.Single(night => night.Id == due).Closes) : Never))};",
        $"closing = {List(week.Tasks.Select(task => RoundUp(task.ClosesZoneMinutes)))};",
        $"last = {List(week.Tasks.Select(task => Literal(task.Last)))};",
        $"modesOf = {List(week.Tasks.Select((task, at) => week.Tasks.Take(at).Sum(one => one.Modes.Count) is var before
            ? $"{before + 1}..{before + task.Modes.Count}" : ""))};",
        $"taskOf = {List(week.Tasks.SelectMany((task, at) => Enumerable.Repeat(at + 1, task.Stints)))};",
        $"long = {List(modes.Select(one => (one.Mode.Minutes + slot * one.Stints - 1) / (slot * one.Stints)))};",
        $"uses = {Table(modes.Length, week.Store.Equipment.Count, modes.SelectMany(one => week.Store.Equipment.Select(piece =>
            one.Mode.Equipment.Where(use => use.Id == piece.Id).Sum(use => use.Count))))};",
        $"wanted = array3d(1..{modes.Length}, 1..{skills.Length}, 1..3, {List(modes.SelectMany(one => skills
            .SelectMany(skill => Enumerable.Range(1, 3)
                .Select(level => one.Mode.Roles.Where(role => role.Skill == skill && role.Level == level)
                    .Sum(role => role.People)))))});",
        Rows("precedences", 4, week.Tasks.SelectMany((task, at) => task.After.Select(precedence => (int[])
            [at + 1, Index(week.Tasks.Select(one => one.Id), precedence.Task), RoundUp(precedence.DryMinutes),
                precedence.SameNight ? 1 : 0]))),
        Rows("bans", 3, week.Nights.SelectMany(night => night.Bans).SelectMany(ban => week.Tasks.Index()
            .Where(one => one.Item.Traits.Contains(ban.Trait))
            .Select(one => (int[])[one.Index + 1, RoundDown(ban.From), RoundUp(ban.To)]))),
        Rows("company", 2, week.Rules.Company.SelectMany(rule => week.Tasks.Index()
            .Where(one => one.Item.Traits.Contains(rule.Trait)).Select(one => (int[])[one.Index + 1, rule.People]))),
        $"empties = {List(week.Tasks.Select(task => Literal(task.Empties)))};",
        $"fills = {List(week.Tasks.Select(task => Literal(task.Fills)))};",
        $"trade = {List(week.Store.Zones.Select(zone => zone.TradePerDay))};",
        Rows("stintPins", 3, PinnedStints().Select(one => (int[])
            [one.Stint, one.Pin.Night is { } night ? NightIndex(night) : 0, one.Pin.From is { } from ? Exactly(from) : -1])),
        Rows("peoplePins", 2, PinnedStints().SelectMany(one => one.Pin.People
            .Select(person => (int[])[one.Stint, PersonIndex(person)]))),
        Rows("shiftPins", 5, week.Pins.OfType<ShiftPin>().Select(pin => (int[])
            [PersonIndex(pin.Person), NightIndex(pin.Night), pin.Off ? 1 : 0, pin.From is { } from ? Exactly(from) : -1,
                pin.To is { } to ? Exactly(to) : -1])),
        Rows("published", 3, PublishedStints().Select(one => (int[])
            [one.Stint, NightIndex(one.Night), Exactly(one.Work.From.LocalDateTime)])),
        Rows("publishedPeople", 2, PublishedStints().SelectMany(one => one.Work.People
            .Select(person => (int[])[one.Stint, PersonIndex(person.Person)]))),
        $"level = {Table(week.Crew.Count, skills.Length, week.Crew
            .SelectMany(member => skills.Select(skill => member.Skills.GetValueOrDefault(skill))))};",
        $"key = {List(week.Crew.Select(member => Literal(member.Keyholder)))};",
        $"rate = {List(week.Crew.Select(member => member.RatePerHour))};",
        $"from = {Table(week.Crew.Count, week.Nights.Count, Available((entry, night) => RoundUp(entry.From ?? night.Opens)))};",
        $"to = {Table(week.Crew.Count, week.Nights.Count, Available((entry, night) => RoundDown(entry.To ?? night.Closes)))};",
        $"mostNights = {List(week.Crew.Select(member => member.MaxNights ?? 99))};",
        $"mostSlots = {List(week.Crew.Select(member => member.MaxMinutesPerNight is { } minutes ? minutes / slot : Never))};",
        $"leastShift = {((week.Rules.MinShiftMinutes ?? 0) + slot - 1) / slot};",
        $"longestShift = {(week.Rules.MaxShiftMinutes ?? Never) / slot};",
        $"rest = {((week.Rules.MinRestMinutes ?? 0) + slot - 1) / slot};",
        $"leastPeople = {week.Rules.MinPeople ?? 0};",
        $"keyholding = {Literal(week.Rules.KeyholderPresent)};",
        $"opening = {((week.Rules.OpeningMinutes ?? 0) + slot - 1) / slot};",
        $"leaving = {((week.Rules.ClosingMinutes ?? 0) + slot - 1) / slot};",
        $"breakAfter = {(week.Rules.BreakAfterMinutes ?? Never) / slot};",
        $"breakLength = {RoundUp(week.Rules.BreakMinutes ?? 0)};",
        $"breakClear = {RoundUp(week.Rules.BreakClearMinutes ?? 0)};",
        $"briefing = {RoundUp(week.Rules.BriefingMinutes ?? 0)};",
        $"goal = {Array.IndexOf(Goals, goal) + 1}; most = {List(Goals.Select(id => caps.GetValueOrDefault(id, NoCap)))};",
    ]);

    /// <summary>Number of each pinned stint, from 1 over all tasks, and its pin.</summary>
    private IEnumerable<(int Stint, StintPin Pin)> PinnedStints() => week.Pins.OfType<StintPin>().SelectMany(pin =>
        pin.Stint is { } stint ? [(StintIndex(pin.Task, stint), pin)]
            : Enumerable.Range(1, week.Tasks.Single(task => task.Id == pin.Task).Stints)
                .Select(stint => (StintIndex(pin.Task, stint), pin)));

    private IEnumerable<(int Stint, string Night, PlannedWork Work)> PublishedStints() =>
        (published?.Nights ?? []).SelectMany(night => night.Work.Where(work => work.Task is not null)
            .Select(work => (StintIndex(work.Task!, work.Stint!.Value), night.Night, work)));

    private int StintIndex(string task, int stint) => week.Tasks.TakeWhile(one => one.Id != task).Sum(one => one.Stints) + stint;
    private int NightIndex(string night) => Index(week.Nights.Select(one => one.Id), night);
    private int PersonIndex(string person) => Index(week.Crew.Select(one => one.Id), person);

    private IEnumerable<int> Available(Func<Availability, Night, int> end) =>
        week.Crew.SelectMany(member => week.Nights.Select(night =>
        member.Available.SingleOrDefault(entry => entry.Night == night.Id) is { } entry ? end(entry, night) : 0));

    private int DownMode(Zone zone) => zone.CleanDown is null ? 0
        : week.Tasks.Sum(task => task.Modes.Count) + 1 + week.Store.Zones.TakeWhile(other => other != zone)
        .Count(other => other.CleanDown is not null);

    private static IEnumerable<SkillRequirement> AllRoles(Week week) =>
        week.Tasks.SelectMany(task => task.Modes).SelectMany(mode => mode.Roles)
            .Concat(week.Store.Zones.SelectMany(zone => zone.CleanDown?.Roles ?? []));

    // The weeks here have no clock change, so clock time is elapsed time.
    private int Minutes(LocalDateTime time) => (int)Period.Between(week.Nights[0].Opens, time, PeriodUnits.Minutes).Minutes;
    private int RoundDown(LocalDateTime time) => (int)Math.Floor((double)Minutes(time) / slot);
    private int RoundUp(LocalDateTime time) => (int)Math.Ceiling((double)Minutes(time) / slot);
    private int RoundUp(int minutes) => (minutes + slot - 1) / slot;
    private int Exactly(LocalDateTime time) =>
        Minutes(time) % slot == 0 ? RoundDown(time) : throw new ArgumentException($"{time} is off the grid.");

    private static int Index(IEnumerable<string> all, string id) => all.TakeWhile(one => one != id).Count() + 1;
    private static string Literal(bool value) => value ? "true" : "false";
    private static string List<T>(IEnumerable<T> values) => $"[{string.Join(", ", values)}]";
    private static string Table(int rows, int columns, IEnumerable<int> values) =>
        $"array2d(1..{rows}, 1..{columns}, {List(values)})";

    private static string Rows(string name, int columns, IEnumerable<int[]> rows) =>
        rows.ToArray() is var all ? $"{name} = {Table(all.Length, columns, all.SelectMany(row => row))};" : "";
}
