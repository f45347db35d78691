using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;

namespace SetWeek.Planning.Tests.Exact;

/// <summary>
/// One tiny week for each rule, whose best plan is what it is because of that rule alone. Nights open at 22:00; finish counts
/// minutes from the first opening, an hour of one person costs 12.00.
/// </summary>
/// <param name="Problem">Asks for one goal.</param>
/// <param name="Best">The goal's least value with all rules.</param>
/// <param name="Without">Its least value where the rule does not bind.</param>
internal sealed record RuleWeek(Problem Problem, long Best, long Without)
{
    private static readonly TinyWeek Week = TinyWeek.New.With(week => week with { GridMinutes = 30 });

    /// <summary>Three people, but only ana is ever there.</summary>
    private static readonly TinyWeek AnaAlone = Week.Person("bo", Never).Person("cy", Never);

    public static RuleWeek Of(RuleId rule) => rule switch
    {
        // Tuesday's grid runs 22:02, 22:32, ...: with the kit in at 22:04 the hour of work starts at 22:32.
        RuleId.Grid => Asking(GoalId.Finish, Week
            .Night("tue", night => night with { Opens = TinyWeek.Local("2027-03-09T22:02") })
            .Kit("paint", "2027-03-09T22:04").Task("a", 60, task => task with { Needs = [new("paint")] }),
            best: 1440 + 32 + 60, without: 1440 + 4 + 60),
        RuleId.Whole => Asking(GoalId.Finish, Week.Task("a", 60),
            best: 60, without: 0),
        // Two things that dry by themselves, one after the other, are ten hours; a night has eight: the second waits.
        RuleId.Window => Asking(GoalId.Finish, Week
            .Task("a", 300, Unattended).Task("b", 300, task => Unattended(task) with { After = [new("a")] }),
            best: 1440 + 300, without: 600),
        RuleId.Ban => Asking(GoalId.Finish, Week
            .Night("mon", night => night with { Bans = [new("noisy", night.Opens, night.Opens.PlusHours(1))] })
            .Task("a", 60, task => task with { Traits = ["noisy"] }),
            best: 120, without: 60),
        RuleId.After => Asking(GoalId.Finish, Week.Task("a", 60).Task("b", 60, "a"),
            best: 120, without: 60),
        RuleId.Drying => Asking(GoalId.Finish, Week.Task("a", 60).Task("b", 60, "a", dry: 120),
            best: 240, without: 120),
        // b can only be on Tuesday, so a, which b may not leave for another night, waits too.
        RuleId.SameNight => Asking(GoalId.Finish, Week
            .Kit("props", "2027-03-09T22:00").Task("a", 60)
            .Task("b", 60, task => task with { After = [new("a") { SameNight = true }], Needs = [new("props")] }),
            best: 1440 + 120, without: 1440 + 60),
        RuleId.Kit => Asking(GoalId.Finish, Week
            .Kit("props", "2027-03-08T23:00").Task("a", 60, task => task with { Needs = [new("props")] }),
            best: 120, without: 60),
        RuleId.Equipment => Asking(GoalId.Finish, Week
            .Equipment("ladder", 1).Task("a", 60, OnLadder).Task("b", 60, OnLadder),
            best: 120, without: 60),
        // Only cy is at level 3, and comes at 23:00.
        RuleId.Skill => Asking(GoalId.Finish, Week
            .Person("cy", member => member with
            {
                Skills = new Dictionary<string, int> { ["hands"] = 3 },
                    Available = [new("mon", TinyWeek.Local("2027-03-08T23:00"))],
            })
            .Task("a", 60, task => task with { Modes = [new(60, [new("hands", 1) { Level = 3 }])] }),
            best: 120, without: 60),
        RuleId.OnePlace => Asking(GoalId.Finish, AnaAlone.Task("a", 60).Task("b", 60),
            best: 120, without: 60),
        RuleId.ZoneRoom => Asking(GoalId.Finish, Week
            .Zone("wall", zone => zone with { MaxPeople = 1 }).Task("a", 60).Task("b", 60),
            best: 120, without: 60),
        RuleId.ZoneClosed => Asking(GoalId.Finish, Week
            .Task("a", 60, task => task with { ClosesZoneMinutes = 90 }).Task("b", 60, "a"),
            best: 60 + 90 + 60, without: 120),
        RuleId.CleanDown => Asking(GoalId.Finish, Week
            .Zone("wall", zone => zone with { CleanDown = new(30, [new("hands", 1)]) }).Task("a", 60),
            best: 90, without: 60),
        RuleId.Last => Asking(GoalId.Finish, Week
            .Task("a", 60).Task("z", 60, task => task with { Last = true }),
            best: 120, without: 60),
        RuleId.Due => Asking(GoalId.Cost, CheaperOnTuesday
            .Task("a", 60, task => task with { Due = "mon" }),
            best: 1200, without: 600),
        RuleId.Launch => Asking(GoalId.Cost, CheaperOnTuesday.Task("a", 60)
            .With(week => week with { Launch = TinyWeek.Local("2027-03-09T09:00") }),
            best: 1200, without: 600),
        RuleId.Availability => Asking(GoalId.Finish, AnaAlone
            .Person("ana", member => member with { Available = [new("mon", TinyWeek.Local("2027-03-08T23:00"))] }).Task("a", 60),
            best: 120, without: 60),
        RuleId.OnShift => Asking(GoalId.Cost, Week.Task("a", 60),
            best: 1200, without: 0),
        RuleId.ShiftLength => Asking(GoalId.Cost, Week
            .Rules(new() { MinShiftMinutes = 180 }).Task("a", 60),
            best: 3600, without: 1200),
        // Three hours of work for one person, no more than two of them in one go.
        RuleId.Break => Asking(GoalId.Finish, AnaAlone
            .Rules(new() { BreakAfterMinutes = 120, BreakMinutes = 30 }).Task("a", 90).Task("b", 90),
            best: 90 + 30 + 90, without: 180),
        RuleId.Briefing => Asking(GoalId.Finish, Week.Rules(new() { BriefingMinutes = 20 }).Task("a", 60),
            best: 30 + 60, without: 60),
        // a needs somebody beside it. The only other work of the zone comes with the props at 23:00, and c follows a.
        RuleId.Company => Asking(GoalId.Finish, Week
            .Rules(new() { Company = [new("ladder", 2)] }).Kit("props", "2027-03-08T23:00")
            .Task("a", 30, task => task with { Traits = ["ladder"] }).Task("b", 60, task => task with { Needs = [new("props")] })
            .Task("c", 60, task => task with { After = [new("a")], Zone = "floor" }),
            best: 60 + 30 + 60, without: 120),
        RuleId.Pin => Asking(GoalId.Finish, Week.Task("a", 60).With(week =>
                week with { Pins = [new StintPin("a") { From = TinyWeek.Local("2027-03-08T23:00"), People = ["cy"] }] }),
            best: 120, without: 60),
        // Five hours on Monday end at 03:00; twenty hours later it is 23:00 on Tuesday.
        RuleId.Rest => Asking(GoalId.Finish, AnaAlone
            .Rules(new() { MinRestMinutes = 1200 }).Task("a", 300).Task("b", 300),
            best: 1440 + 60 + 300, without: 1440 + 300),
        RuleId.YoungWorker => Asking(GoalId.Cost, Week
            .Person("cy", member => member with { Under18 = true, RatePerHour = 600 })
            .Rules(new() { Under18 = new() { Barred = ["ladder"] } }).Task("a", 60, task => task with { Traits = ["ladder"] }),
            best: 1200, without: 600),
        // Only cy can do it, for 6.00 the hour; ana or bo has to be there all the while.
        RuleId.Keyholder => Asking(GoalId.Cost, Week
            .Person("cy", member => member with { RatePerHour = 600, Skills = new Dictionary<string, int> { ["painting"] = 1 } })
            .Rules(new() { KeyholderPresent = true }).Task("a", 60, task =>
                task with { Modes = [new(60, [new("painting", 1)])] }),
            best: 600 + 1200, without: 600),
        RuleId.OpenClose => Asking(GoalId.Cost, Week
            .Rules(new() { KeyholderPresent = true, OpeningMinutes = 30, ClosingMinutes = 30 }).Task("a", 60),
            best: 2400, without: 1200),
        RuleId.TwoPerson => Asking(GoalId.Cost, Week
            .Rules(new() { MinPeople = 2 }).Task("a", 60),
            best: 2400, without: 1200),
        // Published for 22:00; at 22:30 nobody has begun.
        RuleId.Frozen => new(Late(), Best: 90, Without: 60),
    };

    /// <summary>Monday has ana at 12.00 the hour, Tuesday cy at 6.00.</summary>
    private static TinyWeek CheaperOnTuesday => Week.Person("bo", Never)
        .Person("ana", member => member with { Available = [new("mon")] })
        .Person("cy", member => member with { Available = [new("tue")], RatePerHour = 600 });

    private static CrewMember Never(CrewMember member) => member with { Available = [] };

    private static WeekTask Unattended(WeekTask task) => task with { Modes = [new(task.Modes[0].Minutes, [])] };

    private static WeekTask OnLadder(WeekTask task) =>
        task with { Modes = [task.Modes[0] with { Equipment = [new("ladder", 1)] }] };

    private static RuleWeek Asking(GoalId goal, TinyWeek week, long best, long without) =>
        new(week.With(week => week with { Goals = [new(goal)] }).Problem, best, without);

    private static Problem Late()
    {
        var week = Week.Task("a", 60).With(week => week with { ReplanGoals = [new(GoalId.Finish)] });
        var published = week.Plan.Shift("mon", "ana", "22:00", "23:00").Work("mon", "a", "22:00", "23:00", "ana");
        return week.Replan(published, "2027-03-08T22:30").Problem;
    }
}
