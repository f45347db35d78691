using NodaTime;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Tests.Exports;

/// <summary>One night in New York with one person and one task.</summary>
internal static class ExportedPlan
{
    public static Plan Plan { get; } = new()
    {
        Week = "w", Status = PlanStatus.Feasible,
        Nights = [new PlannedNight
        {
            Night = "monday",
            Shifts = [new("p1", At(20, 0), At(24, 30), new PlannedBreak(At(22, 0), At(22, 30)))],
            Work = [new PlannedWork { Task = "wall.paint", Stint = 1, Mode = 0, From = At(20, 0), To = At(21, 0),
                People = [new("p1", "painting")] }],
        }],
    };

    public static Week Week(string name) => new()
    {
        Id = "w", Currency = "USD", Launch = new(2027, 3, 12, 9, 0),
        Store = new Store { Id = "s", TimeZone = "America/New_York", Zones = [new("window", "Show window")] },
        Nights = [new("monday", new(2027, 3, 8, 20, 0), new(2027, 3, 9, 1, 0))],
        Crew = [new CrewMember
        {
            Id = "p1", Name = name, Skills = new Dictionary<string, int>(), RatePerHour = 1, Available = [],
        }],
        Displays = [new("wall", "Wall", DisplayCommitment.Must)],
        Tasks = [new() { Id = "wall.paint", Name = "Paint the wall", Display = "wall", Zone = "window",
            Modes = [new(60, [new("painting", 1)])] }],
        Rules = new RuleSet(),
    };

    public static OffsetDateTime At(int hour, int minute) =>
        new LocalDateTime(2027, 3, 8, 0, 0).PlusMinutes(hour * 60 + minute).WithOffset(Offset.FromHours(-5));
}
