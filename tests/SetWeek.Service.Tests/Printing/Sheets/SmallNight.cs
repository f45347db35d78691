using System.Globalization;
using NodaTime;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;
using SetWeek.Service.Tests.Pages.Charts;

namespace SetWeek.Service.Tests.Printing.Sheets;

/// <summary>Nights of one person and a few pieces, whose sheets can be reckoned by hand.</summary>
internal static class SmallNight
{
    public static Week Painted { get; } = ChartWeek.Spring with
    {
        Tasks = [.. ChartWeek.Spring.Tasks.Select(task => task.Id == "paint" ? task with { Traits = ["paint"] } : task)],
    };

    public static Plan ClockChange { get; } =
        new() { Week = Painted.Id, Status = PlanStatus.Feasible, Nights = ChartWeek.Planned };

    public static Week Slipping(int longest) => new()
    {
        Id = "w", Currency = "GBP", Launch = new(2027, 3, 12, 9, 0),
        Store = new Store { Id = "s", TimeZone = "Europe/London", Zones = [new("floor", "Floor")] },
        Nights = [new("monday", new(2027, 3, 8, 21, 30), new(2027, 3, 9, 1, 30))],
        Crew = [new CrewMember { Id = "p1", Name = "Asha Rowan", Skills = new Dictionary<string, int> { ["dressing"] = 1 },
            RatePerHour = 1, Keyholder = true, Available = [new("monday")] }],
        Displays = [new("all", "All", DisplayCommitment.Want) { Value = 1 }], Rules = new RuleSet(),
        Tasks =
        [
            new() { Id = "a", Name = "Build", Display = "all", Zone = "floor", Modes = [new(60, [new("dressing", 1)])],
                Estimate = new(45, longest) },
            new() { Id = "b", Name = "Dress", Display = "all", Zone = "floor", Modes = [new(30, [new("dressing", 1)])],
                After = [new("a")], Estimate = new(25, 35) },
        ],
    };

    public static Plan SlippingPlan { get; } = new()
    {
        Week = "w", Status = PlanStatus.Feasible,
        Nights = [new PlannedNight
        {
            Night = "monday", Keyholder = "p1", Shifts = [new("p1", At(21, 30), At(24, 30))],
            Work = [Piece("a", At(21, 45), At(22, 45)), Piece("b", At(22, 45), At(23, 15))],
        }],
    };

    private static PlannedWork Piece(string task, OffsetDateTime from, OffsetDateTime to) =>
        new() { Task = task, Stint = 1, Mode = 0, From = from, To = to, People = [new("p1", "dressing")] };

    public static Kit Kit(string id, LocalDateTime? eta) => new(id, $"Kit {id}", eta) { Lines = [new("tin", 4)] };

    private static OffsetDateTime At(int hour, int minute) =>
        new LocalDateTime(2027, 3, 8, 0, 0).PlusMinutes(60 * hour + minute).WithOffset(Offset.Zero);

    public static string Clock(OffsetDateTime time) => time.LocalDateTime.ToString("HH:mm", CultureInfo.InvariantCulture);

    public static string Clock(OffsetDateTime from, OffsetDateTime to) => $"{Clock(from)}–{Clock(to)}";
}
