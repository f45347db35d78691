using NodaTime;
using SetWeek.Domain.Directions;
using SetWeek.Domain.Stores;
using SetWeek.Domain.Weeks.Events;
using SetWeek.Domain.Weeks.Events.Nights;
using SetWeek.Domain.Weeks.Events.Snags;
using SetWeek.Domain.Weeks.Notifications;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Service.Tests.Storage;

/// <summary>One sample of each event, with all its fields.</summary>
public static class EventSamples
{
    private static readonly LocalDateTime Evening = new(2027, 3, 8, 21, 30), Morning = new(2027, 3, 9, 5, 0);

    /// <summary>A time in summer time, to test the offset, and with seconds, to test the precision.</summary>
    private static readonly OffsetDateTime At = new LocalDateTime(2027, 3, 30, 22, 15, 42).WithOffset(Offset.FromHours(1));

    private static readonly ReportClock Ahead = new(At, At.PlusMinutes(-5));

    private static readonly Direction Direction = new()
    {
        Id = "first-rain",
        Name = "First Rain",
        Zones = [new("window", "Show window", ["window-2"])],
        Displays =
        [
            new("canopy", "Hung canopy", DisplayCommitment.Want) { Value = 40, Alternate = new("canopy.panel", 10),
                Requires = ["canopy-points"], About = "It hangs.", Drawings = [new("From the street", "https://pictures.example/1")],
                MustBeShown = true,
                Colours = [new("Slate blue") { Tasks = ["canopy.hang"] }],
                Figures = [new("Looks up") { Tasks = ["canopy.hang"], Wears = ["Coat, M"], Pose = "Chin up", Accessory = "Umbrella" }] },
        ],
        Tasks = [Task()],
        Kits = [new("props", "Props", [new("rail", 4)]) { Cartons = [new("P1") { Holds = ["Four rails"], Items = ["rail"] }] }],
        Cards =
        [
            new("hang", "Hang from points")
            {
                Tasks = ["canopy.hang"], Cautions = ["Nobody under it."],
                Steps = [new("Opposite points in turn.") { Picture = new("Six points") }], Good = ["Level."],
                GoesWrong = ["Trimmed early: it racks."], Tools = ["line scale"],
                Films = [new("Hang it", 65, "https://pictures.example/2") { Said = [new(0, "Two haul.")] }],
                Sources = ["Common practice, no source."],
            },
        ],
    };

    private static readonly Week Week = new()
    {
        Id = "first-rain.harbour-street",
        Currency = "GBP",
        GridMinutes = 5,
        Launch = new(2027, 3, 13, 9, 0),
        Store = new() { Id = "harbour-street", TimeZone = "Europe/London", Zones = [Zone()], Equipment = [new("ladder", 2)] },
        Nights = [new("night-1", Evening, Morning) { Bans = [new("noisy", Evening, Morning)] }],
        Crew = [],
        Kits = [new("props", "Props", Evening) { Lines = [new("rail", 4) { Received = 3, Damaged = 1, Settled = true }] }],
        Displays = [new("canopy", "Hung canopy", DisplayCommitment.Must) { Alternate = new("canopy.panel", 10) }],
        Tasks = [Task()],
        Rules = new()
        {
            MinRestMinutes = 660, JoinMinutes = 60, MinShiftMinutes = 120, MaxShiftMinutes = 480, ShiftGridMinutes = 15,
            BreakAfterMinutes = 360,
            BreakMinutes = 30, BreakClearMinutes = 60, BriefingMinutes = 15, Company = [new("height", 2)], MinPeople = 2, KeyholderPresent = true, OpeningMinutes = 10, ClosingMinutes = 15,
            OvertimeAfterMinutes = 2400,
            OvertimePercent = 150, LaunchBufferMinutes = 60, NoticeMinutes = 2880, ReservePercent = 60,
            Under18 = new()
            {
                Until = new(22, 0), Barred = ["height"], MinRestMinutes = 720, MaxShiftMinutes = 420, BreakAfterMinutes = 270,
                BreakMinutes = 30,
            },
        },
        Hold = new() { Chance = 90, GraceMinutes = 15, Scenarios = 512, Seed = 3 },
        Pins =
        [
            new StintPin("canopy.hang") { Stint = 1, Night = "night-1", From = Evening, People = ["c1"] },
            new ShiftPin("c1", "night-1") { From = Evening, To = Morning },
        ],
        Goals = [new(GoalId.LeftOut), new(GoalId.Cost, 5)],
        ReplanGoals = [new(GoalId.Changes)],
    };

    private static readonly Plan Plan = new()
    {
        Week = Week.Id,
        Status = PlanStatus.Feasible,
        Nights =
        [
            new()
            {
                Night = "night-1", Keyholder = "c1", Shifts = [new("c1", At, At, new(At, At))],
                Work =
                [
                    new() { Task = "canopy.hang", Stint = 1, Mode = 0, From = At, To = At, People = [new("c1", "rigging")] },
                    new() { CleanDown = "window", From = At, To = At },
                ],
            },
        ],
        LeftOut = ["cycle"],
        Goals = [new(GoalId.Cost, 12_345, null), new(GoalId.Finish, 300, 290)],
        Breaches = [new(RuleId.Rest, new() { Person = "c1", Night = "night-1" }, "c1 rests 9 hours.")],
    };

    public static IReadOnlyList<object> All { get; } =
    [
        new StoreOpened(
            new("harbour-street", "Harbour Street", "Europe/London", [Zone()], [new("ladder", 2)], ["canopy-points"],
                new StoreRegion("south", "South"))),
        new DirectionIssued(Direction),
        new DirectionRevised(Direction),
        new WeekOpened("first-rain", 1, Week, ["c1", "c2"],
            [new("canopy", ScopingOutcome.Alternate, "The panel stands instead of the canopy.")], ["canopy"]),
        new NightSet(Week.Nights[0]),
        new NightDropped("night-2"),
        new LaunchMoved(Morning),
        new RulesSet(Week.Rules),
        new GoalsSet(Week.Goals, Week.ReplanGoals, Week.Hold),
        new ZoneSet(Zone()),
        new EquipmentSet(new("ladder", 1)),
        new DisplaySet(Week.Displays[0]),
        new DisplayDropped("canopy"),
        new DisplayChoiceSet("canopy", DisplayChoice.UseAlternate),
        new KitSet("props", "Props", [new("rail", 4)]),
        new KitDropped("props"),
        new TasksRevised("first-rain", 2, "memo-1", TaskRevisionKind.Store, [Task()], ["wall.paint"], "lena",
            [new ScopingDecision("canopy", ScopingOutcome.Alternate, "The panel stands instead of the canopy.")], ["canopy"]),
        new Pinned("pin-3", Week.Pins[0]),
        new Unpinned("pin-3"),
        new CrewJoined("c3"),
        new CrewChanged("c3", ["available", "commitments"]),
        new PersonAbsent("c3", "night-1"),
        new PersonErased("c3"),
        new KitExpected("props", Evening),
        new KitDelayed("props", null),
        new KitArrived("phone-1.1", "props", At, Ahead, "phone-1.0"),
        new KitCounted("props", At, [new("rail", 3, 1)], true, "phone-1.1", Ahead, "wren"),
        new KitLineSettled("props", "rail"),
        new PlanPublished("0193", "a1b2", Plan, 2,
            new([new("night-1", 1, 3)], [new(101, "night-1", "canopy.hang", 1, null), new(103, "night-1", null, null, "window")]),
            "lena", At.ToInstant()),
        new PlanBroken("0193", RuleId.Kit, "canopy.hang", 1, "window", "night-1", "The canopy is late.", "phone-1.1"),
        new PlanHoldsAgain("0193"),
        new WorkStarted("phone-1.2", "canopy.hang", 1, "night-1", At, ["c1"], Ahead, "phone-1.0", "wren",
            [new("ladder-tag", CheckResult.Good)]),
        new WorkFinished("phone-1.3", "canopy.hang", 1, "night-1", At, ["c1", "c2"], Ahead, "phone-1.0", "wren",
            [new("It hangs level.", CheckResult.DoesNotApply)], new(19, 54), ["phone-1.p7"]),
        new ChecksFailed("phone-1.25", "canopy.hang", 1, "night-1", At, [new("It hangs level.", CheckResult.NotGood)], 20,
            new(19, 54), ["c1", "c2"], "wren", Ahead, "phone-1.0", ["phone-1.p8"]),
        new WorkBlocked("phone-1.4", "canopy.hang", 2, At, "kit-short", 25, At, Ahead, "phone-1.0", ["phone-1.p6"]),
        new WorkReopened("phone-1.5", "canopy.hang", 1, At, Ahead, "phone-1.0"),
        new WorkProgressed("phone-1.8", "canopy.hang", 1, At, 15, 3, 8, Ahead, "phone-1.0"),
        new WorkPaused("phone-1.9", "canopy.hang", 1, At, 15, Ahead, "phone-1.0"),
        new WorkResumed("phone-1.10", "canopy.hang", 1, "night-1", At, ["c1"], Ahead, "phone-1.0"),
        new WorkStopped("phone-1.11", "night-1", "window", At, Ahead, "phone-1.0"),
        new StopLifted("phone-1.11", "wren"),
        new ReportRetracted("phone-1.12", "phone-1.2", At, Ahead),
        new AbsenceRetracted("c3", "night-1"),
        new KitLineUnsettled("props", "rail"),
        new CleanDownStarted("phone-1.6", "window", "night-1", At, ["c1"], Ahead, "phone-1.0", "wren"),
        new CleanDownFinished("phone-1.7", "window", "night-1", At, ["c1"], Ahead, "phone-1.0", "wren"),
        new QuestionAsked("phone-1.q1", "canopy.hang", 1, "phone-1.4", Addressee.HeadOffice, At, Ahead, "canopy", "c1"),
        new QuestionAnswered("phone-1.q1", Addressee.HeadOffice, true, Addressee.HeadOffice, "ada", At.ToInstant()),
        new MemoRead("memo-1", "wren", At.ToInstant()),
        new NightOpened("phone-1.20", "night-1", At, "wren", ["c1", "c2"], "c2", ["exits", "first-aid"], Ahead, "phone-1.0"),
        new PersonCame("phone-1.21", "night-1", "c3", At, Ahead, "phone-1.0"),
        new PersonLeft("phone-1.22", "night-1", "c3", At, Ahead, "phone-1.0"),
        new NightClosed("phone-1.23", "night-1", At, "wren", ["c1", "c2"],
            [new("exits", CheckResult.Good), new("rubbish", CheckResult.NotGood)],
            [new("canopy.hang", HalfSecuredDecision.ShutOff)], ["window"], ["window"], Ahead, "phone-1.0"),
        new AreaLookedAt("phone-1.24", "window", At, "wren", ["c1"],
            [new("widths", CheckResult.Good, 1040), new("light", CheckResult.NotGood), new("seams", CheckResult.DoesNotApply)],
            Ahead, "phone-1.0", ["phone-1.p9"]),
        new DisplayShown("phone-1.26", "canopy", At, "lena", ["c1", "c2"], "lena", true, Ahead, "phone-1.0"),
        new WeekHandedOver("hand-over-1", At.ToInstant(), "wren", [new("window", "light")], [4, 5], ["phone-1.p10"]),
        new HandOverWithdrawn("hand-over-1", "wren"),
        new SnagRaised("phone-1.13", 6, "window", "canopy", 101, "window", "canopy.hang",
            new(SnagOwnerKind.Person, "c1", "joiner"), new(2027, 3, 12), true, "c2", At, ["phone-1.p1"], Ahead, "phone-1.0"),
        new SnagFixed("phone-1.14", "phone-1.13", "c1", At, ["phone-1.p2"], Ahead, "phone-1.0"),
        new SnagReopened("phone-1.15", "phone-1.13", "c2", At, ["phone-1.p3"], Ahead, "phone-1.0"),
        new SnagHandedOn("phone-1.16", "phone-1.13", new(SnagOwnerKind.HeadOffice), new(2027, 3, 16), "lena", At,
            ["phone-1.p4"], Ahead, "phone-1.0"),
        new SnagAcceptedOpen("phone-1.17", "phone-1.13", "lena", At, ["phone-1.p5"], Ahead, "phone-1.0"),
        new PersonTold(2, "c1", ToldHow.LeftMessage, At.ToInstant(), "lena"),
        new TellingRetracted(2, "c1", "lena"),
        new ChangesSeen(2, "c1", At.ToInstant()),
        new ChangesAnswered(2, "c1", ChangesAnswer.Agreed, At.ToInstant(), "lena"),
    ];

    private static Zone Zone() => new("window", "Show window", 2, new(20, [new("general", 1)]));

    private static WeekTask Task() => new()
    {
        Id = "canopy.hang", Name = "Hang the canopy", Display = "canopy", Zone = "window",
        Modes = [new(90, [new("rigging", 2) { Level = 2 }]) { Equipment = [new("ladder", 1)] }],
        Stints = 2, After = [new("wall.paint") { DryMinutes = 240, SameNight = true }],
        Needs = [new("props") { Item = "rail", Count = 2 }],
        Traits = ["height"], Due = "night-1", Last = true, ClosesZoneMinutes = 60, Estimate = new(60, 150),
        Checks = ["It hangs level."], Steps = ["Fix the points."], Cautions = ["Two people on the ladder's foot."],
    };
}
