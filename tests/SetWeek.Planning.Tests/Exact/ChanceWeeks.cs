using NodaTime;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Tests.Exact;

/// <summary>
/// Weeks from a seed in which every rule binds now and then: one or two short nights on a coarse grid, not always aligned,
/// two or three people, a few tasks. Small enough that all plans can be tried where <paramref name="tiny"/> is asked.
/// </summary>
internal sealed class ChanceWeeks(int seed, bool tiny)
{
    private static readonly LocalDate Monday = new(2027, 3, 8);
    private static readonly string[] Goals = ["cost", "finish", "nights", "shifts", "moves", "uneven", "reserve", "leftOut"];

    private readonly Random chance = new(seed);

    public static Week Make(int seed, bool tiny) => new ChanceWeeks(seed, tiny).Week();

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
                    new("a", "A", Once(3) ? 1 : null, Once(2) ? new CleanDownSpec(30, Once(2) ? [new("any", 1)] : []) : null),
                    new("b", "B"),
                ],
                Equipment = [new("ladder", 1)],
            },
            Nights = nights, Crew = crew,
            Kits = [new("kit", "Kit", nights[0].Opens.PlusMinutes(30))],
            Displays =
            [
                new("one", "One", Promise.Must) { Alternate = Once(4) ? new("spare", 3) : null },
                new("two", "Two", Once(2) ? Promise.Want : Promise.Must) { Value = 5 },
                new("spare", "Spare", Promise.Want) { Value = 1 },
            ],
            Tasks = tasks,
            Rules = Rules(),
            Goals = Chosen(),
        };
    }

    private GoalChoice[] Chosen()
    {
        var order = Goals.ToArray();
        chance.Shuffle(order);
        return [.. order.Take(3).Select(goal => new GoalChoice(goal, Once(4) ? 10 : 0))];
    }

    private Night[] Nights() => [.. Enumerable.Range(0, chance.Next(1, 3)).Select(night =>
    {
        var opens = Monday.PlusDays(night).At(new LocalTime(20, 0)).PlusMinutes(night == 1 && Once(3) ? 10 : 0);
        var closes = opens.PlusMinutes(tiny ? chance.Next(3, 5) * 30 : chance.Next(4, 9) * 30);
        return new Night($"n{night}", opens, closes)
        {
            Bans = Once(3) ? [new("noisy", opens.PlusMinutes(20), opens.PlusMinutes(50))] : [],
        };
    })];

    private CrewMember[] Crew(Night[] nights) =>
    [.. Enumerable.Range(0, tiny ? 2 : chance.Next(2, 4)).Select(index => new CrewMember
    {
        Id = $"p{index}", Name = $"Person {index}",
        RatePerHour = 900 + 100 * chance.Next(4), Keyholder = index == 0 || Once(3), Under18 = Once(5),
        Skills = Once(2) ? new Dictionary<string, int> { ["any"] = 1 } : new() { ["any"] = 1, ["paint"] = chance.Next(1, 4) },
        Available = [.. nights.Where(_ => !Once(6)).Select(night => new Availability(night.Id,
            Once(5) ? night.Opens.PlusMinutes(30) : null, Once(6) ? night.Closes.PlusMinutes(-30) : null))],
        Commitments = Once(4) ? [Day()] : [],
        MaxMinutesPerNight = Once(5) ? 60 : null, MaxNights = Once(5) ? 1 : null, MinutesAlready = Once(3) ? 30 : 0,
    })];

    private Commitment Day()
    {
        var from = Monday.At(new LocalTime(14, 0)).PlusMinutes(30 * chance.Next(0, 70));
        return new(from, from.PlusMinutes(chance.Next(2, 5) * 30));
    }

    private SetTask[] Tasks(Night[] nights)
    {
        var count = tiny ? chance.Next(1, 3) : chance.Next(2, 6);
        return [.. Enumerable.Range(0, count).Select(index =>
        {
            var display = index == 0 ? "one" : new[] { "one", "two", "spare" }[chance.Next(3)];
            var last = index == count - 1 && Once(4);
            return new SetTask
            {
                Id = $"t{index}", Name = $"task {index}", Display = display, Zone = Once(2) ? "a" : "b",
                Modes = Once(3) ? [Mode(), Mode()] : [Mode()],
                Stints = Once(4) ? 2 : 1,
                After = index > 0 && Once(2)
                    ? [new($"t{chance.Next(index)}") { DryMinutes = Once(3) ? 25 : 0, SameNight = Once(4) }] : [],
                Needs = Once(5) ? [new("kit")] : [],
                Traits = [.. new[] { "noisy", "ladder" }.Where(_ => Once(3))],
                Due = Once(6) ? nights[0].Id : null, Last = last, ClosesZoneMinutes = Once(5) ? 25 : 0,
            };
        })];
    }

    private Mode Mode() => new(chance.Next(1, 3) * 30, Once(5) ? []
        : Once(3) ? [new("any", 1), new("paint", 1) { Level = chance.Next(1, 3) }]
        : [new(Once(2) ? "paint" : "any", Once(3) ? 2 : 1) { Level = 1 }])
    {
        Equipment = Once(3) ? [new("ladder", 1)] : [],
    };

    private RuleSet Rules() => new()
    {
        MinRestMinutes = Once(2) ? 660 : null, JoinMinutes = Once(2) ? 60 : null, MinShiftMinutes = Once(3) ? 60 : null,
        MaxShiftMinutes = Once(3) ? 90 : null, ShiftGridMinutes = Once(4) ? 60 : null,
        BreakAfterMinutes = Once(4) ? 60 : null, BreakMinutes = Once(2) ? 20 : null,
        MinPeople = Once(3) ? 2 : null, KeyholderPresent = Once(3),
        OpeningMinutes = Once(3) ? 30 : null, ClosingMinutes = Once(3) ? 20 : null,
        OvertimeAfterMinutes = Once(2) ? 60 : null, OvertimePercent = Once(2) ? 150 : null,
        LaunchBufferMinutes = Once(4) ? 40 : null,
        ReservePercent = Once(2) ? 20 : null,
        Under18 = Once(2)
            ? new() { Until = new LocalTime(21, 30), Barred = ["ladder"], MaxShiftMinutes = Once(3) ? 60 : null } : null,
    };

    private bool Once(int times) => chance.Next(times) == 0;
}
