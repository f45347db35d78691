using NodaTime;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Tests.Pages.Charts;

/// <summary>
/// Two nights in London. In the first, clocks go forward at 01:00 UTC on 28 March 2027 (Directive 2000/84/EC has the last Sunday
/// in March, and the Summer Time Order 2002 the same for the United Kingdom), so it has seven hours from 22:00 to 06:00.
/// </summary>
internal static class ChartWeek
{
    public static Week Spring { get; } = new()
    {
        Id = "first-rain.quay", Currency = "GBP", Launch = new LocalDateTime(2027, 3, 31, 9, 0),
        Store = new Store
        {
            Id = "quay", TimeZone = "Europe/London",
            Zones = [new("window", "Show window", 3), new("wall", "Back wall"), new("stock", "Stockroom")],
        },
        Nights =
        [
            new("sat", new LocalDateTime(2027, 3, 27, 22, 0), new LocalDateTime(2027, 3, 28, 6, 0))
            {
                Bans = [new("noisy", new LocalDateTime(2027, 3, 28, 0, 0), new LocalDateTime(2027, 3, 28, 6, 0))],
            },
            new("sun", new LocalDateTime(2027, 3, 28, 22, 0), new LocalDateTime(2027, 3, 29, 2, 0)),
        ],
        Kits =
        [
            new("props", "Props", new LocalDateTime(2027, 3, 27, 23, 30)),
            new("signs", "Signs", new LocalDateTime(2027, 3, 27, 9, 0)),
        ],
        Crew = [Member("p1", "Asha Rowan"), Member("p2", "Ben Marsh"), Member("p3", "Cleo Strand")],
        Displays = [new("all", "All", DisplayCommitment.Must)], Rules = new RuleSet(),
        Tasks =
        [
            TaskIn("paint", "Paint the wall", "wall") with { ClosesZoneMinutes = 30 },
            TaskIn("forms", "Set the forms", "wall") with { After = [new("paint") { DryMinutes = 20 * 60 }] },
            TaskIn("clear", "Clear the window", "window"), TaskIn("bed", "Lay the window bed", "window"),
            TaskIn("sort", "Sort the stock", "stock"),
        ],
    };

    private static readonly Offset Winter = Offset.Zero, Summer = Offset.FromHours(1);

    /// <summary>Two tasks share the window; the sorting needs nobody; Asha paints across the change of clocks.</summary>
    public static PlannedNight Saturday { get; } = new()
    {
        Night = "sat", Keyholder = "p1",
        Shifts =
        [
            new("p1", At(27, 22, 0), At(28, 6, 0, Summer), new PlannedBreak(At(28, 3, 0, Summer), At(28, 3, 30, Summer))),
            new("p2", At(27, 22, 0), At(28, 0, 30)),
        ],
        Work =
        [
            Piece("clear", At(27, 22, 15), At(27, 23, 45), "p1", "p2"), Piece("bed", At(27, 22, 30), At(27, 23, 0), "p3"),
            Piece("paint", At(28, 0, 30), At(28, 2, 30, Summer), "p1"), Piece("sort", At(27, 23, 0), At(28, 3, 0, Summer)),
            new PlannedWork
            {
                CleanDown = "window", From = At(28, 0, 0), To = At(28, 0, 20),
                People = [new("p2", "cleaning")],
            },
        ],
    };

    public static PlannedNight Sunday { get; } = new()
    {
        Night = "sun", Keyholder = "p1", Shifts = [new("p1", At(28, 22, 0, Summer), At(29, 1, 0, Summer))],
        Work = [Piece("forms", At(28, 23, 0, Summer), At(29, 0, 0, Summer), "p1")],
    };

    public static IReadOnlyList<PlannedNight> Planned { get; } = [Saturday, Sunday];

    public static OffsetDateTime At(int day, int hour, int minute, Offset? offset = null) =>
        new LocalDateTime(2027, 3, day, hour, minute).WithOffset(offset ?? Winter);

    public static PlannedWork Piece(string task, OffsetDateTime from, OffsetDateTime to, params string[] people) => new()
    {
        Task = task, Stint = 1, Mode = 0, From = from, To = to,
        People = [.. people.Select(person => new PlannedPerson(person, "dressing"))],
    };

    public static CrewMember Member(string id, string name) =>
        new() { Id = id, Name = name, RatePerHour = 1300, Skills = new Dictionary<string, int> { ["dressing"] = 1 } };

    private static WeekTask TaskIn(string id, string name, string zone) =>
        new() { Id = id, Name = name, Display = "all", Zone = zone, Modes = [new(60, [])] };
}
