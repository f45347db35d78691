using NodaTime;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Tests.Bounds;

/// <summary>
/// Weeks of a few lines: nights of two hours from ten in the evening, one zone, one must, people who can do anything.
/// </summary>
internal static class BoundsWeek
{
    public static readonly LocalDateTime FirstEvening = new(2027, 3, 8, 22, 0);

    public static LocalDateTime Evening(int night, int minutes = 0) => FirstEvening.PlusDays(night).PlusMinutes(minutes);

    public static Week Week(int nights, params WeekTask[] tasks) => new()
    {
        Id = "tiny",
        Currency = "GBP",
        Launch = Evening(nights + 1),
        Store = new Store { Id = "store", TimeZone = "Europe/London", Zones = [new("floor", "Floor")],
            Equipment = [new("lift", 1)] },
        Nights = [.. Enumerable.Range(0, nights)
            .Select(night => new Night($"n{night + 1}", Evening(night), Evening(night, 120)))],
        Crew = [Person("ann", nights), Person("bob", nights)],
        Displays = [new("wall", "Wall", DisplayCommitment.Must)],
        Tasks = tasks,
        Rules = new RuleSet(),
        Goals = [new(GoalId.LeftOut), new(GoalId.Cost), new(GoalId.Finish)],
    };

    public static CrewMember Person(string id, int nights, params string[] skills) => new()
    {
        Id = id,
        Name = id[..1].ToUpperInvariant() + id[1..],
        Skills = (skills.Length == 0 ? ["any"] : skills).ToDictionary(skill => skill, _ => 2),
        RatePerHour = 1200,
        Available = [.. Enumerable.Range(0, nights).Select(night => new Availability($"n{night + 1}"))],
    };

    public static WeekTask Task(string id, int minutes, params string[] after) => new()
    {
        Id = id,
        Name = id,
        Display = "wall",
        Zone = "floor",
        Modes = [new Mode(minutes, [new SkillRequirement("any", 1)])],
        After = [.. after.Select(before => new TaskPrecedence(before))],
    };
}
