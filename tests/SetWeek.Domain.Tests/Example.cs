using NodaTime;
using SetWeek.Domain.Crews;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Plans;
using SetWeek.Domain.Stores;
using SetWeek.Domain.Weeks;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Domain.Tests;

/// <summary>
/// A small week of the demo chain Quillmere: two nights, two people, one wall and one kit, in London before the clock change.
/// </summary>
internal static class Example
{
    public static readonly LocalDateTime MondayEvening = new(2027, 3, 8, 21, 0), MondayOpens = new(2027, 3, 8, 21, 30);

    public static StoreProfile Harbour { get; } = new("harbour-street", "Harbour Street", "Europe/London",
        [new Zone("wall", "Feature wall", null, new ZoneCleanDown(15, [new SkillRequirement("cleaning", 1)])),
            new Zone("floor", "Shop floor")],
        [new Equipment("ladder", 1)], ["canopy-points"]);

    public static Direction FirstRain { get; } = new()
    {
        Id = "first-rain",
        Name = "First Rain",
        Zones = [new DirectedZone("stage", "Stage", ["balcony", "floor"])],
        Displays =
        [
            new DirectedDisplay("feature-wall", "Painted wall", DisplayCommitment.Must),
            new DirectedDisplay("cycle", "Cycle prop", DisplayCommitment.Want)
            {
                Value = 40, Alternate = new Alternate("cycle.panel", 10), Requires = ["cycle-stand"],
            },
            new DirectedDisplay("cycle.panel", "Cycle panel", DisplayCommitment.Want) { Value = 1 },
        ],
        Tasks =
        [
            Task("feature-wall.paint", "Paint the wall", "feature-wall", "wall")
                with { Needs = [new KitRequirement("paint") { Item = "tin", Count = 2 }], Stints = 2 },
            Task("cycle.tie", "Tie the cycle to its stand", "cycle", "stage"),
            Task("cycle.panel.lean", "Fix the panel", "cycle.panel", "stage"),
            Task("feature-wall.refit", "Refit the fixtures", "feature-wall", "wall") with
            {
                After = [new TaskPrecedence("feature-wall.paint") { DryMinutes = 240 }, new TaskPrecedence("cycle.tie")],
            },
        ],
        Kits = [new DirectedKit("paint", "Paint", [new DirectedLine("tin", 3)])],
    };

    public static CrewFile Crew { get; } = new("first-rain.harbour-street",
        [Member("p1", "Asha Rowan"), Member("p2", "Ben Marsh")]);

    public static WeekOpened Opened { get; } = Open();

    public static StoreWeek Given(params IWeekEvent[] events) =>
        events.Prepend(Opened).Aggregate((StoreWeek?)null, StoreWeek.Evolve)!;

    /// <summary>A plan for Monday: Ben paints the wall in two consecutive stints, then Asha does the clean-down.</summary>
    public static Plan Worked { get; } = new()
    {
        Week = "first-rain.harbour-street",
        Status = PlanStatus.Feasible,
        Nights =
        [
            new PlannedNight
            {
                Night = "monday",
                Keyholder = "p1",
                Shifts = [new PlannedShift("p1", At(21, 30), At(23, 30)), new PlannedShift("p2", At(21, 30), At(23, 30))],
                Work =
                [
                    PlannedStint("feature-wall.paint", 1, At(21, 45), At(22, 15)),
                    PlannedStint("feature-wall.paint", 2, At(22, 15), At(22, 45)),
                    new PlannedWork { CleanDown = "wall", From = At(23, 0), To = At(23, 15),
                        People = [new PlannedPerson("p1", "cleaning")] },
                ],
            },
        ],
    };

    public static PlanPublished Published { get; } = new("plan-1", "hash-1", Worked);

    public static CandidatePlan Candidate { get; } = new()
    {
        Id = "plan-2", Week = "first-rain.harbour-street", State = CandidateState.Ready, WeekVersion = 1, InputHash = "hash-2",
        Now = MondayEvening, Asked = Instant.FromUtc(2027, 3, 8, 12, 0), Limits = new PlanLimits(5, null, 1, 0), Plan = Worked,
    };

    /// <summary>On Monday 8 March 2027, before any clock change: London is at +00:00.</summary>
    public static OffsetDateTime At(int hour, int minute) => new LocalDateTime(2027, 3, 8, hour, minute).WithOffset(Offset.Zero);

    public static CrewMember Member(string id, string name) => new()
    {
        Id = id, Name = name, Skills = new Dictionary<string, int> { ["painting"] = 2, ["cleaning"] = 1 }, Keyholder = true,
            RatePerHour = 1300,
        Available = [new Availability("monday"), new Availability("tuesday")],
    };

    private static WeekTask Task(string id, string name, string display, string zone) => new()
    {
        Id = id, Name = name, Display = display, Zone = zone, Modes = [new Mode(60, [new SkillRequirement("painting", 1)])],
    };

    private static PlannedWork PlannedStint(string task, int stint, OffsetDateTime from, OffsetDateTime to) => new()
    {
        Task = task, Stint = stint, Mode = 0, From = from, To = to, People = [new PlannedPerson("p2", "painting")],
    };

    private static WeekOpened Open()
    {
        var scoped = Scoping.Of(FirstRain, Harbour);
        return new WeekOpened("first-rain", 1, new Week
        {
            Id = "first-rain.harbour-street",
            Currency = "GBP",
            Launch = new LocalDateTime(2027, 3, 13, 9, 0),
            Store = new Store { Id = Harbour.Id, TimeZone = Harbour.TimeZone, Zones = Harbour.Zones,
                Equipment = Harbour.Equipment },
            Nights =
            [
                new Night("monday", MondayOpens, MondayOpens.PlusHours(4)),
                new Night("tuesday", MondayOpens.PlusDays(1), MondayOpens.PlusDays(1).PlusHours(4)),
            ],
            Crew = [],
            Kits = [new Kit("paint", "Paint", new LocalDateTime(2027, 3, 8, 12, 0)) { Lines = [new KitLine("tin", 3)] }],
            Displays = scoped.Displays,
            Tasks = scoped.Tasks,
            Rules = new RuleSet(),
        }, ["p1", "p2"], scoped.Decisions);
    }
}
