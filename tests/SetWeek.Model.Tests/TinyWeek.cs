using NodaTime;
using NodaTime.Text;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests;

/// <summary>
/// A small valid week; each test adds what it needs. Nights mon, tue and wed from 22:00 to 06:00 in London in March 2027 (no
/// clock change). Ana, Bo and Cy are available every night, have level 2 of "hands" and cost 12.00 an hour; Ana and Bo are
/// keyholders. Zones wall and floor. One display, wall, which is a must and has no tasks. No rules.
/// </summary>
internal sealed record TinyWeek(Week Week)
{
    public static TinyWeek New { get; } = new(new Week
    {
        Id = "tiny",
        Currency = "GBP",
        Launch = Local("2027-03-13T09:00"),
        Store = new Store { Id = "store", TimeZone = "Europe/London", Zones = [new("wall", "Wall"), new("floor", "Floor")] },
        Nights = [NightOn("mon", 8), NightOn("tue", 9), NightOn("wed", 10)],
        Crew = [Member("ana", "Ana") with { Keyholder = true }, Member("bo", "Bo") with { Keyholder = true }, Member("cy", "Cy")],
        Displays = [new("wall", "The wall", DisplayCommitment.Must)],
        Tasks = [],
        Rules = new RuleSet(),
    });

    public Problem Problem => Problem.Of(Week);

    /// <summary>An empty plan, to which a test adds shifts and work.</summary>
    public TinyPlan Plan => new(Problem, new Schedule { Shifts = [], Work = [], Keyholders = new int?[Week.Nights.Count] });

    public static LocalDateTime Local(string time) =>
        LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm").Parse(time).Value;

    public TinyWeek With(Func<Week, Week> change) => new(change(Week));

    public TinyWeek Rules(RuleSet rules) => With(week => week with { Rules = rules });

    /// <summary>Adds a task with one stint and one mode with one person, for display wall in zone wall, unless changed.</summary>
    public TinyWeek Task(string id, int minutes, Func<WeekTask, WeekTask>? change = null)
    {
        var task = new WeekTask { Id = id, Name = id, Display = "wall", Zone = "wall",
            Modes = [new(minutes, [new("hands", 1)])] };
        return With(week => week with { Tasks = [.. week.Tasks, change is null ? task : change(task)] });
    }

    /// <summary>Adds a task that starts after another one, with drying time and in the same night if given.</summary>
    public TinyWeek Task(string id, int minutes, string after, int dry = 0, bool sameNight = false) =>
        Task(id, minutes, task => task with { After = [new(after) { DryMinutes = dry, SameNight = sameNight }] });

    /// <summary>Changes a person of the crew, or adds one with that id.</summary>
    public TinyWeek Person(string id, Func<CrewMember, CrewMember> change) =>
        With(week => week with { Crew = ChangedOrAdded(week.Crew, member => member.Id == id, change, () => Member(id, id)) });

    public TinyWeek Night(string id, Func<Night, Night> change) =>
        With(week => week with { Nights = ChangedOrAdded(week.Nights, night => night.Id == id, change,
            () => throw new ArgumentException(id)) });

    public TinyWeek Zone(string id, Func<Zone, Zone> change) => With(week => week with
    {
        Store = week.Store with
        {
            Zones = ChangedOrAdded(week.Store.Zones, zone => zone.Id == id, change, () => new Zone(id, id)),
        },
    });

    /// <summary>Gives the zone a clean-down by one person.</summary>
    public TinyWeek CleanDown(string zone, int minutes) =>
        Zone(zone, room => room with { CleanDown = new(minutes, [new("hands", 1)]) });

    /// <summary>Adds a commitment of a person, in local times.</summary>
    public TinyWeek Busy(string person, string from, string to) =>
        Person(person, member => member with { Commitments = [.. member.Commitments, new(Local(from), Local(to))] });

    public TinyWeek Ban(string night, string trait, string from, string to) =>
        Night(night, banned => banned with { Bans = [.. banned.Bans, new(trait, Local(from), Local(to))] });

    public TinyWeek Equipment(string id, int count) =>
        With(week => week with { Store = week.Store with { Equipment = [.. week.Store.Equipment, new(id, count)] } });

    public TinyWeek Kit(string id, string? eta, params KitLine[] lines) =>
        With(week => week with { Kits = [.. week.Kits, new Kit(id, id, eta is null ? null : Local(eta)) { Lines = lines }] });

    /// <summary>Changes a display, or adds a must with that id.</summary>
    public TinyWeek Display(string id, Func<Display, Display> change) =>
        With(week => week with
        {
            Displays = ChangedOrAdded(week.Displays, display => display.Id == id, change,
                () => new Display(id, id, DisplayCommitment.Must)),
        });

    /// <summary>An empty re-plan of this week at a local time, to which a test adds shifts and work.</summary>
    public TinyPlan Replan(TinyPlan published, string now, params ProgressReport[] progress) =>
        Plan with { Problem = Problem.Of(Week, new Replan(published.AsPlan, Local(now), progress)) };

    private static CrewMember Member(string id, string name) => new()
    {
        Id = id, Name = name, Skills = new Dictionary<string, int> { ["hands"] = 2 }, RatePerHour = 1200,
        Available = [new("mon"), new("tue"), new("wed")],
    };

    private static Night NightOn(string id, int day) =>
        new(id, new LocalDateTime(2027, 3, day, 22, 0), new LocalDateTime(2027, 3, day + 1, 6, 0));

    private static T[] ChangedOrAdded<T>(IReadOnlyList<T> items, Func<T, bool> wanted, Func<T, T> change, Func<T> make) =>
        items.Any(wanted) ? [.. items.Select(item => wanted(item) ? change(item) : item)] : [.. items, change(make())];
}
