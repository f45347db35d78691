using NodaTime;
using SetWeek.Model.Changes;
using SetWeek.Model.Plans;
using SetWeek.Model.Weeks;

namespace SetWeek.Model.Tests.Files;

internal static class PlanSamples
{
    private static readonly IReadOnlyList<GoalValue> Goals = [new(GoalId.LeftOut, 0, 0), new(GoalId.Cost, 20000, 18000)];

    /// <summary>A plan file without nights, with a conflict and a repair of every kind.</summary>
    public static Plan WithoutAPlan { get; } = new()
    {
        Week = "first-rain.bell-yard",
        Status = PlanStatus.Infeasible,
        Goals = [new(GoalId.LeftOut, 60, null)],
        Notes = ["The ban on “noisy” work reaches beyond its night; only the part within it counts."],
        Breaches =
            [new(RuleId.CleanDown, new RuleSubject { Zone = "window", Night = "thu" },
                "The window was worked in after its clean-down.")],
        Conflict =
        [
            new(RuleId.Kit, new RuleSubject { Kit = "canopy", Task = "canopy.hang", Stint = 1, Display = "canopy" },
                "The canopy comes after the last night."),
            new(RuleId.Skill, new RuleSubject { Person = "bo", Skill = "rigging", Equipment = "ladder" }, "Nobody else rigs."),
        ],
        Repairs =
        [
            new([new ExtraPerson("thu", "rigging", 2)], Goals, "One more rigger on Thursday."),
            new([new ExtraPerson("thu", "rigging", 1, Keyholder: true)], Goals, "One more rigger with the keys on Thursday."),
            new([new NightWindowMoved("fri", Closes: new LocalDateTime(2027, 3, 13, 3, 0))], Goals, "Friday until three."),
            new([new KitEtaMoved("canopy", new LocalDateTime(2027, 3, 11, 14, 0))], Goals, "The canopy a day earlier."),
            new([new DueMoved("finish.move", "fri")], Goals, "The rails a night later."),
            new([new ZoneCapacity("window", 4)], Goals, "Four people in the window."),
            new([new UseAlternate("canopy")], Goals, "The banner instead."),
            new([new LeaveOut("canopy")], Goals, "No canopy."),
            new([new ExtraKeyholder("thu")], Goals, "One more keyholder on Thursday."),
            new([new MissingPiecesDelivered("canopy", "clip", new LocalDateTime(2027, 3, 11, 14, 0))], Goals, "The rest on Thursday."),
            new([new MissingPiecesSettled("canopy", "clip")], Goals, "Go without the rest."),
            new([new ZoneCapacity("window", 4), new ExtraPerson("fri", "rigging", 1)], Goals,
                "Four in the window, and one more rigger on Friday."),
            new([new ExtraKeyholder("thu"), new ExtraKeyholder("fri"), new LeaveOut("canopy")], Goals, "Two keyholders more, and no canopy."),
        ],
    };
}
