using NodaTime;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Tests.Reference;

/// <summary>A week as the reference model reads it, written from the week itself and not by way of the planner.</summary>
internal sealed class MiniZincData(Week week)
{
    public static readonly GoalId[] Goals = [GoalId.LeftOut, GoalId.Cost, GoalId.Finish, GoalId.Nights, GoalId.Shifts];

    private const int Never = 100_000, Most = 1_000_000;

    private readonly int slot = week.GridMinutes;
    private readonly string[] skills = [.. week.Crew.SelectMany(member => member.Skills.Keys)
        .Concat(AllRoles(week).Select(role => role.Skill)).Distinct().Order(StringComparer.Ordinal)];
    private readonly (Mode Mode, int Stints)[] modes =
        [.. week.Tasks.SelectMany(task => task.Modes.Select(mode => (mode, task.Stints))),
        .. week.Store.Zones.Where(zone => zone.CleanDown is not null)
            .Select(zone => (new Mode(zone.CleanDown!.Minutes, zone.CleanDown.Roles), 1))];

    /// <param name="goal">Which one is made least.</param>
    /// <param name="most">What those above it may be, in the order of the week's goals.</param>
    public string For(GoalId goal, IReadOnlyDictionary<GoalId, long> most) => string.Join("\n",
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
        $"launch = {Down(week.Launch.PlusMinutes(-(week.Rules.LaunchBufferMinutes ?? 0)))};",
        $"room = {List(week.Store.Zones.Select(zone => zone.MaxPeople ?? 999))};",
        $"downMode = {List(week.Store.Zones.Select(DownMode))};",
        $"pieces = {List(week.Store.Equipment.Select(piece => piece.Count))};",
        $"must = {List(week.Displays.Select(display => Word(display.Commitment == DisplayCommitment.Must)))};",
        $"worth = {List(week.Displays.Select(display => display.Value))};",
        $"display = {List(week.Tasks.Select(task => Index(week.Displays.Select(one => one.Id), task.Display)))};",
        $"zone = {List(week.Tasks.Select(task => Index(week.Store.Zones.Select(one => one.Id), task.Zone)))};",
        $"earliest = {List(week.Tasks.Select(task => task.Needs
            .Select(need => Up(week.Kits.Single(kit => kit.Id == need.Kit).Eta!.Value)).Append(0).Max()))};",
        $"due = {List(week.Tasks.Select(task => task.Due is { } due
            ? Exactly(week.Nights.Single(night => night.Id == due).Closes) : Never))};",
        $"closing = {List(week.Tasks.Select(task => Up(task.ClosesZoneMinutes)))};",
        $"last = {List(week.Tasks.Select(task => Word(task.Last)))};",
        $"ways = {List(week.Tasks.Select((task, at) => week.Tasks.Take(at).Sum(one => one.Modes.Count) is var before
            ? $"{before + 1}..{before + task.Modes.Count}" : ""))};",
        $"taskOf = {List(week.Tasks.SelectMany((task, at) => Enumerable.Repeat(at + 1, task.Stints)))};",
        $"long = {List(modes.Select(one => (one.Mode.Minutes + slot * one.Stints - 1) / (slot * one.Stints)))};",
        $"uses = {Table(modes.Length, week.Store.Equipment.Count, modes.SelectMany(one => week.Store.Equipment.Select(piece =>
            one.Mode.Equipment.Where(use => use.Id == piece.Id).Sum(use => use.Count))))};",
        $"wanted = array3d(1..{modes.Length}, 1..{skills.Length}, 1..3, {List(modes.SelectMany(one => skills
            .SelectMany(skill => Enumerable.Range(1, 3)
                .Select(level => one.Mode.Roles.Where(role => role.Skill == skill && role.Level == level)
                    .Sum(role => role.People)))))});",
        Rows("links", 4, week.Tasks.SelectMany((task, at) => task.After.Select(precedence => (int[])
            [at + 1, Index(week.Tasks.Select(one => one.Id), precedence.Task), Up(precedence.DryMinutes), precedence.SameNight ? 1 : 0]))),
        Rows("bans", 3, week.Nights.SelectMany(night => night.Bans).SelectMany(ban => week.Tasks.Index()
            .Where(one => one.Item.Traits.Contains(ban.Trait))
            .Select(one => (int[])[one.Index + 1, Down(ban.From), Up(ban.To)]))),
        $"level = {Table(week.Crew.Count, skills.Length, week.Crew
            .SelectMany(member => skills.Select(skill => member.Skills.GetValueOrDefault(skill))))};",
        $"key = {List(week.Crew.Select(member => Word(member.Keyholder)))};",
        $"rate = {List(week.Crew.Select(member => member.RatePerHour))};",
        $"from = {Table(week.Crew.Count, week.Nights.Count, Available((entry, night) => Up(entry.From ?? night.Opens)))};",
        $"to = {Table(week.Crew.Count, week.Nights.Count, Available((entry, night) => Down(entry.To ?? night.Closes)))};",
        $"mostNights = {List(week.Crew.Select(member => member.MaxNights ?? 99))};",
        $"mostSlots = {List(week.Crew.Select(member => member.MaxMinutesPerNight is { } minutes ? minutes / slot : Never))};",
        $"leastShift = {((week.Rules.MinShiftMinutes ?? 0) + slot - 1) / slot};",
        $"longestShift = {(week.Rules.MaxShiftMinutes ?? Never) / slot};",
        $"rest = {((week.Rules.MinRestMinutes ?? 0) + slot - 1) / slot};",
        $"leastPeople = {week.Rules.MinPeople ?? 0};",
        $"keyholding = {Word(week.Rules.KeyholderPresent)};",
        $"opening = {((week.Rules.OpeningMinutes ?? 0) + slot - 1) / slot};",
        $"leaving = {((week.Rules.ClosingMinutes ?? 0) + slot - 1) / slot};",
        $"goal = {Array.IndexOf(Goals, goal) + 1}; most = {List(Goals.Select(one => most.GetValueOrDefault(one, Most)))};",
    ]);

    private IEnumerable<int> Available(Func<Availability, Night, int> end) =>
        week.Crew.SelectMany(member => week.Nights.Select(night =>
        member.Available.SingleOrDefault(entry => entry.Night == night.Id) is { } entry ? end(entry, night) : 0));

    private int DownMode(Zone zone) => zone.CleanDown is null ? 0
        : week.Tasks.Sum(task => task.Modes.Count) + 1 + week.Store.Zones.TakeWhile(other => other != zone)
        .Count(other => other.CleanDown is not null);

    private static IEnumerable<SkillRequirement> AllRoles(Week week) =>
        week.Tasks.SelectMany(task => task.Modes).SelectMany(mode => mode.Roles)
            .Concat(week.Store.Zones.SelectMany(zone => zone.CleanDown?.Roles ?? []));

    // No week here has a clock change in it, so that clock time is elapsed time.
    private int Minutes(LocalDateTime time) => (int)Period.Between(week.Nights[0].Opens, time, PeriodUnits.Minutes).Minutes;
    private int Down(LocalDateTime time) => (int)Math.Floor((double)Minutes(time) / slot);
    private int Up(LocalDateTime time) => (int)Math.Ceiling((double)Minutes(time) / slot);
    private int Up(int minutes) => (minutes + slot - 1) / slot;
    private int Exactly(LocalDateTime time) =>
        Minutes(time) % slot == 0 ? Down(time) : throw new ArgumentException($"{time} is off the grid.");

    private static int Index(IEnumerable<string> all, string id) => all.TakeWhile(one => one != id).Count() + 1;
    private static string Word(bool value) => value ? "true" : "false";
    private static string List<T>(IEnumerable<T> values) => $"[{string.Join(", ", values)}]";
    private static string Table(int rows, int columns, IEnumerable<int> values) =>
        $"array2d(1..{rows}, 1..{columns}, {List(values)})";

    private static string Rows(string name, int columns, IEnumerable<int[]> rows) =>
        rows.ToArray() is var all ? $"{name} = {Table(all.Length, columns, all.SelectMany(row => row))};" : "";
}
