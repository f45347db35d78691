using CsCheck;
using NodaTime;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Tests;

/// <summary>Random weeks that are solved to proven optimality within moments, in which every kind of rule occurs.</summary>
internal static class TinyWeekGenerator
{
    private static readonly LocalDate Monday = new(2027, 3, 8);
    private static readonly Gen<bool> Rarely = Gen.Int[0, 3].Select(roll => roll == 0);

    public static Gen<Week> Any { get; } =
        from nights in Gen.Int[1, 2]
        from tasks in Task.Array[2, 5]
        from crew in Member.Array[2, 3]
        from keyholder in Gen.Bool
        from cleanDown in Gen.Bool
        from breaks in Rarely
        from minPeople in Gen.Int[1, 2]
        from goals in Goals
        select Make(nights, tasks, crew, keyholder, cleanDown, breaks, minPeople, goals);

    private static Gen<T> OneOf<T>(params T[] values) => Gen.Int[0, values.Length - 1].Select(index => values[index]);

    private sealed record GeneratedTask(int Minutes, int People, string Skill, int PredecessorDistance, int Dry,
        bool SameNight, bool Want,
        int Stints, int Zone, bool Noisy, bool Kit);

    private sealed record GeneratedMember(bool Paints, int Rate, bool Late);

    private static Gen<GeneratedTask> Task =>
        from minutes in Gen.Int[1, 4]
        from people in Gen.Int[0, 2]
        from skill in OneOf("any", "paint")
        from predecessorDistance in Gen.Int[0, 2]
        from dry in OneOf(0, 0, 60)
        from sameNight in Rarely
        from want in Rarely
        from stints in OneOf(1, 1, 2)
        from zone in Gen.Int[0, 1]
        from noisy in Rarely
        from kit in Rarely
        select new GeneratedTask(minutes * 30, people, skill, predecessorDistance, dry, sameNight, want, stints, zone, noisy,
            kit);

    private static Gen<GeneratedMember> Member =>
        from paints in Gen.Bool
        from rate in Gen.Int[6, 9]
        from late in Rarely
        select new GeneratedMember(paints, rate * 200, late);

    private static Gen<IReadOnlyList<GoalChoice>> Goals =>
        Gen.Shuffle(new[] { GoalId.Cost, GoalId.Finish, GoalId.Nights, GoalId.Shifts, GoalId.Moves, GoalId.Uneven,
            GoalId.Reserve, GoalId.Bare, GoalId.Handovers })
            .Select(order => (IReadOnlyList<GoalChoice>)[new GoalChoice(GoalId.LeftOut),
                .. order.Take(2).Select(goal => new GoalChoice(goal))]);

    private static Week Make(int nights, GeneratedTask[] generatedTasks, GeneratedMember[] crew, bool keyholder,
        bool cleanDown, bool breaks,
        int minPeople, IReadOnlyList<GoalChoice> goals) => new()
    {
        Id = "tiny",
        Currency = "EUR",
        GridMinutes = 15,
        Launch = Monday.PlusDays(nights).At(new LocalTime(9, 0)),
        Store = new Store
        {
            Id = "tiny",
            TimeZone = "Europe/London",
            Zones = [.. Enumerable.Range(0, 2)
                .Select(zone => new Zone($"z{zone}", $"Zone {zone}", 3,
                    cleanDown ? new ZoneCleanDown(15, [new SkillRequirement("any", 1)]) : null, 100 + 50 * zone))],
        },
        Nights = [.. Enumerable.Range(0, nights)
            .Select(night => new Night($"n{night}", Monday.PlusDays(night).At(new LocalTime(20, 0)),
                Monday.PlusDays(night + 1).AtMidnight())
        {
            Bans = night == 0 ? [new Ban("noisy", Monday.At(new LocalTime(20, 0)), Monday.At(new LocalTime(21, 0)))] : [],
        })],
        Crew = [.. crew.Select((member, index) => new CrewMember
        {
            Id = $"p{index}",
            Name = $"Person {index}",
            Skills = member.Paints || index == 0 ? new Dictionary<string, int> { ["any"] = 1, ["paint"] = 2 }
                : new() { ["any"] = 1 },
            Keyholder = index == 0,
            RatePerHour = member.Rate,
            Available = [.. Enumerable.Range(0, nights)
                .Select(night => new Availability($"n{night}",
                    member.Late && index > 1 ? Monday.PlusDays(night).At(new LocalTime(21, 0)) : null))],
        })],
        Kits = [new Kit("kit", "Kit", Monday.At(new LocalTime(21, 0)))],
        Displays =
            [.. generatedTasks
                .Select((task, index) => new Display($"d{index}", $"Display {index}",
                    task.Want ? DisplayCommitment.Want : DisplayCommitment.Must) { Value = task.Want ? 10 + index : 0 })],
        Tasks = [.. generatedTasks.Select((task, index) => new WeekTask
        {
            Id = $"t{index}",
            Name = $"task {index}",
            Display = $"d{index}",
            Zone = $"z{task.Zone}",
            Modes = [new Mode(task.Minutes,
                task.People == 0 ? [] : [new SkillRequirement(task.Skill, task.Skill == "any" ? task.People : 1)])],
            Stints = task.Stints,
            After = task.PredecessorDistance > 0 && index >= task.PredecessorDistance
                ? [new TaskPrecedence($"t{index - task.PredecessorDistance}") { DryMinutes = task.SameNight ? 0 : task.Dry,
                    SameNight = task.SameNight }] : [],
            Needs = task.Kit ? [new KitRequirement("kit")] : [],
            Traits = task.Noisy ? ["noisy"] : [],
            Empties = index is 0 or 1,
            Fills = index == generatedTasks.Length - 1,
        })],
        Rules = new RuleSet
        {
            MinRestMinutes = 660, MinShiftMinutes = 60, MaxShiftMinutes = 480, ShiftGridMinutes = 30,
            BreakAfterMinutes = breaks ? 120 : null, BreakMinutes = breaks ? 15 : null,
            MinPeople = minPeople, KeyholderPresent = keyholder, OpeningMinutes = keyholder ? 15 : null,
            ClosingMinutes = keyholder ? 15 : null,
            ReservePercent = 60,
        },
        Goals = goals,
    };
}
