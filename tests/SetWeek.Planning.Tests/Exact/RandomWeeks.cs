using NodaTime;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Tests.Exact;

/// <summary>
/// Random weeks from a seed in which every rule binds in some week: one or two short nights on a coarse grid, not always
/// aligned, two or three people, a few tasks. With <paramref name="tiny"/> they are small enough to enumerate all plans.
/// </summary>
internal sealed class RandomWeeks(int seed, bool tiny)
{
    private static readonly LocalDate Monday = new(2027, 3, 8);
    private static readonly GoalId[] Goals = [GoalId.Cost, GoalId.Finish, GoalId.Nights, GoalId.Shifts, GoalId.Moves,
        GoalId.Uneven, GoalId.Reserve, GoalId.LeftOut, GoalId.Bare, GoalId.Handovers];

    private readonly Random random = new(seed), trade = new(seed + 1);

    public static Week Make(int seed, bool tiny) => new RandomWeeks(seed, tiny).Week();

    private Week Week()
    {
        var nights = Nights();
        var crew = Crew(nights);
        var tasks = Tasks(nights);
        return new Week
        {
            Id = "chance", Currency = "GBP", GridMinutes = 30, Launch = Monday.PlusDays(nights.Length).At(new LocalTime(3, 0)),
            Store = new Store
            {
                Id = "store", TimeZone = "Europe/London",
                Zones =
                [
                    new("a", "A", OneIn(3) ? 1 : null, OneIn(2) ? new ZoneCleanDown(30, OneIn(2) ? [new("any", 1)] : []) : null, 20),
                    new("b", "B", TradePerDay: 30),
                ],
                Equipment = [new("ladder", 1)],
            },
            Nights = nights, Crew = crew,
            Kits = [new("kit", "Kit", nights[0].Opens.PlusMinutes(30))],
            Displays =
            [
                new("one", "One", DisplayCommitment.Must) { Alternate = OneIn(4) ? new("spare", 3) : null },
                new("two", "Two", OneIn(2) ? DisplayCommitment.Want : DisplayCommitment.Must) { Value = 5 },
                new("spare", "Spare", DisplayCommitment.Want) { Value = 1 },
            ],
            Tasks = tasks,
            Rules = Rules(),
            Pins = Pins(nights, tasks),
            Goals = Chosen(),
        };
    }

    private GoalChoice[] Chosen()
    {
        var order = Goals.ToArray();
        random.Shuffle(order);
        return [.. order.Take(3).Select(goal => new GoalChoice(goal, OneIn(4) ? 10 : 0))];
    }

    private Night[] Nights() => [.. Enumerable.Range(0, random.Next(1, 3)).Select(night =>
    {
        var opens = Monday.PlusDays(night).At(new LocalTime(20, 0)).PlusMinutes(night == 1 && OneIn(3) ? 10 : 0);
        var closes = opens.PlusMinutes(tiny ? random.Next(3, 5) * 30 : random.Next(4, 9) * 30);
        return new Night($"n{night}", opens, closes)
        {
            Bans = OneIn(3) ? [new("noisy", opens.PlusMinutes(20), opens.PlusMinutes(50))] : [],
        };
    })];

    private CrewMember[] Crew(Night[] nights) =>
    [.. Enumerable.Range(0, tiny ? 2 : random.Next(2, 4)).Select(index => new CrewMember
    {
        Id = $"p{index}", Name = $"Person {index}",
        RatePerHour = 900 + 100 * random.Next(4), Keyholder = index == 0 || OneIn(3), Under18 = OneIn(5),
        Skills = OneIn(2) ? new Dictionary<string, int> { ["any"] = 1 } : new() { ["any"] = 1, ["paint"] = random.Next(1, 4) },
        Available = [.. nights.Where(_ => !OneIn(6)).Select(night => new Availability(night.Id,
            OneIn(5) ? night.Opens.PlusMinutes(30) : null, OneIn(6) ? night.Closes.PlusMinutes(-30) : null))],
        Commitments = OneIn(4) ? [DayCommitment()] : [],
        MaxMinutesPerNight = OneIn(5) ? 60 : null, MaxNights = OneIn(5) ? 1 : null, MinutesAlready = OneIn(3) ? 30 : 0,
    })];

    private Commitment DayCommitment()
    {
        var from = Monday.At(new LocalTime(14, 0)).PlusMinutes(30 * random.Next(0, 70));
        return new(from, from.PlusMinutes(random.Next(2, 5) * 30));
    }

    private WeekTask[] Tasks(Night[] nights)
    {
        var count = tiny ? random.Next(1, 3) : random.Next(2, 6);
        return [.. Enumerable.Range(0, count).Select(index =>
        {
            var display = index == 0 ? "one" : new[] { "one", "two", "spare" }[random.Next(3)];
            var last = index == count - 1 && OneIn(4);
            return new WeekTask
            {
                Id = $"t{index}", Name = $"task {index}", Display = display, Zone = OneIn(2) ? "a" : "b",
                Modes = OneIn(3) ? [Mode(), Mode()] : [Mode()],
                Stints = OneIn(4) ? 2 : 1,
                After = index > 0 && OneIn(2)
                    ? [new($"t{random.Next(index)}") { DryMinutes = OneIn(3) ? 25 : 0, SameNight = OneIn(4) }] : [],
                Needs = OneIn(5) ? [new("kit")] : [],
                Traits = [.. new[] { "noisy", "ladder" }.Where(_ => OneIn(3))],
                Due = OneIn(6) ? nights[0].Id : null, Last = last, Empties = trade.Next(3) == 0, Fills = trade.Next(3) == 0, ClosesZoneMinutes = OneIn(5) ? 25 : 0,
            };
        })];
    }

    private Mode Mode() => new(random.Next(1, 3) * 30, OneIn(5) ? []
        : OneIn(3) ? [new("any", 1), new("paint", 1) { Level = random.Next(1, 3) }]
        : [new(OneIn(2) ? "paint" : "any", OneIn(3) ? 2 : 1) { Level = 1 }])
    {
        Equipment = OneIn(3) ? [new("ladder", 1)] : [],
    };

    private RuleSet Rules() => new()
    {
        MinRestMinutes = OneIn(2) ? 660 : null, JoinMinutes = OneIn(2) ? 60 : null, MinShiftMinutes = OneIn(3) ? 60 : null,
        MaxShiftMinutes = OneIn(3) ? 90 : null, ShiftGridMinutes = OneIn(4) ? 60 : null,
        BreakAfterMinutes = OneIn(4) ? 60 : null, BreakMinutes = OneIn(2) ? 20 : null,
        MinPeople = OneIn(3) ? 2 : null, KeyholderPresent = OneIn(3),
        OpeningMinutes = OneIn(3) ? 30 : null, ClosingMinutes = OneIn(3) ? 20 : null,
        OvertimeAfterMinutes = OneIn(2) ? 60 : null, OvertimePercent = OneIn(2) ? 150 : null,
        BreakClearMinutes = OneIn(3) ? random.Next(1, 3) * 10 : null, BriefingMinutes = OneIn(5) ? 20 : null,
        Company = OneIn(4) ? [new("ladder", 2)] : [],
        LaunchBufferMinutes = OneIn(4) ? 40 : null,
        ReservePercent = OneIn(2) ? 20 : null,
        Under18 = OneIn(2)
            ? new() { Until = new LocalTime(21, 30), Barred = ["ladder"], MaxShiftMinutes = OneIn(3) ? 60 : null } : null,
    };

    private Pin[] Pins(Night[] nights, WeekTask[] tasks) =>
    [
        .. OneIn(6) ? [new StintPin(tasks[0].Id) { Night = nights[^1].Id, People = OneIn(2) ? ["p0"] : [] }] : Array.Empty<Pin>(),
        .. OneIn(8) ? [new StintPin(tasks[^1].Id) { From = nights[0].Opens.PlusMinutes(30) }] : Array.Empty<Pin>(),
        .. OneIn(6) ? [new ShiftPin("p1", nights[0].Id) { Off = OneIn(2) }] : Array.Empty<Pin>(),
        .. OneIn(8) ? [new ShiftPin("p0", nights[^1].Id) { To = nights[^1].Opens.PlusMinutes(90) }] : Array.Empty<Pin>(),
    ];

    private bool OneIn(int times) => random.Next(times) == 0;
}
