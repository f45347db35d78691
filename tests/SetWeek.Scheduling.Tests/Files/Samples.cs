using NodaTime;

namespace SetWeek.Scheduling.Tests.Files;

internal static class Samples
{
    private static readonly IReadOnlyList<GoalValue> Goals = [new("leftOut", 0, 0), new("cost", 20000, 18000)];

    /// <summary>An answer without a plan, with a conflict and a repair of every kind.</summary>
    public static Plan WithoutAPlan { get; } = new()
    {
        Week = "first-rain.bell-yard",
        Status = PlanStatus.Infeasible,
        Goals = [new("leftOut", 60, null)],
        Breaches = [new("clean-down", new About { Zone = "window", Night = "thu" }, "The window was worked in after its clean-down.")],
        Conflict =
        [
            new("kit", new About { Kit = "canopy", Task = "canopy.hang", Stint = 1, Display = "canopy" }, "The canopy comes after the last night."),
            new("skill", new About { Person = "bo", Skill = "rigging", Equipment = "ladder" }, "Nobody else rigs."),
        ],
        Repairs =
        [
            new() { Kind = "personNight", Night = "thu", Skill = "rigging", Level = 2, Goals = Goals, Sentence = "One more rigger on Thursday." },
            new() { Kind = "window", Night = "fri", Closes = new LocalDateTime(2027, 3, 13, 3, 0), Goals = Goals, Sentence = "Friday until three." },
            new() { Kind = "kit", Kit = "canopy", Eta = new LocalDateTime(2027, 3, 11, 14, 0), Goals = Goals, Sentence = "The canopy a day earlier." },
            new() { Kind = "due", Task = "finish.move", Night = "fri", Goals = Goals, Sentence = "The rails a night later." },
            new() { Kind = "room", Zone = "window", MaxPeople = 4, Goals = Goals, Sentence = "Four people in the window." },
            new() { Kind = "alternate", Display = "canopy", Goals = Goals, Sentence = "The banner instead." },
            new() { Kind = "leaveOut", Display = "canopy", Goals = Goals, Sentence = "No canopy." },
        ],
    };
}
