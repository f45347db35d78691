using SetWeek.Model.Plans;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Reference;

/// <summary>
/// The reference model really contains the rules that it lists. In each of these weeks one rule binds, and the minimum finish is
/// derived by hand with the rule and without it. The reference and the planner must both find it.
/// </summary>
public sealed class ReferenceRuleTests
{
    private static readonly SearchLimits Enough = new() { Effort = 20, Workers = 1 };

    /// <summary>Two nights from 22:00 to 02:00 on a grid of half an hour, with only Ana available.</summary>
    private static readonly TinyWeek OnlyAna = TinyWeek.New.With(week => week with
    {
        GridMinutes = 30, Goals = [new(GoalId.Finish)],
        Nights = [.. week.Nights.Take(2).Select(night => night with { Closes = night.Opens.PlusHours(4) })],
        Crew = [.. week.Crew.Select((member, index) => member with { Available = index == 0 ? [new("mon"), new("tue")] : [] })],
    });

    private static readonly TinyWeek Everybody = OnlyAna.With(week => week with
    {
        Crew = [.. week.Crew.Select(member => member with { Available = [new("mon"), new("tue")] })],
    });

    private sealed record Case(TinyWeek With, long FinishWith, TinyWeek Without, long FinishWithout);

    private static readonly Dictionary<string, Case> Cases = new()
    {
        ["after"] = new(Everybody.Task("a", 60).Task("b", 60, "a"), 120, Everybody.Task("a", 60).Task("b", 60), 60),
        ["drying"] = new(Everybody.Task("a", 60).Task("b", 60, "a", dry: 60), 180, Everybody.Task("a", 60)
            .Task("b", 60, "a"), 120),
        // b needs Tuesday's kit, and a must be in the night of b.
        ["same-night"] = new(Kit(Everybody, "2027-03-09T22:00").Task("a", 60)
            .Task("b", 60, task => task with { After = [new("a") { SameNight = true }], Needs = [new("props")] }),
            1440 + 120, Kit(Everybody, "2027-03-09T22:00").Task("a", 60)
                .Task("b", 60, task => task with { After = [new("a")], Needs = [new("props")] }), 1440 + 60),
        ["kit"] = new(Kit(Everybody, "2027-03-08T23:00").Task("a", 60, task => task with { Needs = [new("props")] }),
            120, Everybody.Task("a", 60), 60),
        ["ban"] = new(Everybody.Ban("mon", "noisy", "2027-03-08T22:00", "2027-03-08T23:00")
            .Task("a", 60, task => task with { Traits = ["noisy"] }), 120,
            Everybody.Task("a", 60), 60),
        ["equipment"] = new(Everybody.Equipment("ladder", 1).Task("a", 60, OnLadder).Task("b", 60, OnLadder), 120,
            Everybody.Equipment("ladder", 2).Task("a", 60, OnLadder).Task("b", 60, OnLadder), 60),
        ["skill"] = new(LateCy.Task("a", 60, task => task with { Modes = [new(60, [new("hands", 1) { Level = 3 }])] }), 120,
            LateCy.Task("a", 60), 60),
        ["one-place"] = new(OnlyAna.Task("a", 60).Task("b", 60), 120, Everybody.Task("a", 60).Task("b", 60), 60),
        ["zone-room"] = new(Everybody.Zone("wall", zone => zone with { MaxPeople = 1 }).Task("a", 60).Task("b", 60), 120,
            Everybody.Task("a", 60).Task("b", 60), 60),
        ["zone-closed"] = new(Everybody.Task("a", 60, task => task with { ClosesZoneMinutes = 60 }).Task("b", 60, "a"), 180,
            Everybody.Task("a", 60).Task("b", 60, "a"), 120),
        ["clean-down"] = new(Everybody.CleanDown("wall", 30).Task("a", 60), 90, Everybody.Task("a", 60), 60),
        ["last"] = new(Everybody.Task("a", 60).Task("z", 60, task => task with { Last = true }), 120,
            Everybody.Task("a", 60).Task("z", 60), 60),
        ["availability"] =
            new(OnlyAna.Person("ana", member => member with { Available = [new("mon", TinyWeek.Local("2027-03-08T23:00"))] })
                .Task("a", 60), 120,
            OnlyAna.Task("a", 60), 60),
        // 90 and 60 minutes exceed a shift of two hours. With the longer task first, the shorter ends at 23:00 on Tuesday.
        ["shift-length"] = new(OnlyAna.Rules(new() { MaxShiftMinutes = 120 }).Task("a", 90).Task("b", 60), 1440 + 60,
            OnlyAna.Task("a", 90).Task("b", 60), 150),
        // Two tasks of three hours. Monday's ends at 01:00, and 22 hours of rest end at 23:00.
        ["rest"] = new(OnlyAna.Rules(new() { MinRestMinutes = 22 * 60 }).Task("a", 180).Task("b", 180), 1440 + 240,
            OnlyAna.Task("a", 180).Task("b", 180), 1440 + 180),
        ["two-person"] = new(LateBo.Rules(new() { MinPeople = 2 }).Task("a", 60), 120, LateBo.Task("a", 60), 60),
        // The only keyholder comes at 23:00.
        ["keyholder"] = new(LateBo.Rules(new() { KeyholderPresent = true })
            .Person("ana", member => member with { Keyholder = false }).Task("a", 60), 120,
            LateBo.Task("a", 60), 60),
        ["open-close"] = new(OnlyAna.Rules(new() { KeyholderPresent = true, OpeningMinutes = 30 }).Task("a", 60), 90,
            OnlyAna.Task("a", 60), 60),
        // Three hours of work for one person, at most two of them without a break.
        ["break"] = new(OnlyAna.Rules(new() { BreakAfterMinutes = 120, BreakMinutes = 30 }).Task("a", 90).Task("b", 90),
            90 + 30 + 90, OnlyAna.Task("a", 90).Task("b", 90), 180),
        // The half hour of a is followed by the break. It may not start in the first hour of the shift, so b waits for it.
        ["break clear of the shift's start"] = new(
            OnlyAna.Rules(new() { BreakAfterMinutes = 150, BreakMinutes = 30, BreakClearMinutes = 60 })
                .Task("a", 30).Task("b", 150, "a"), 60 + 30 + 150,
            OnlyAna.Rules(new() { BreakAfterMinutes = 150, BreakMinutes = 30 }).Task("a", 30).Task("b", 150, "a"),
            30 + 30 + 150),
        // A shift lasts three hours. Its break would come after all work, at 24:00, but has to lie between a and b.
        ["break between work"] = new(
            OnlyAna.Rules(new() { BreakAfterMinutes = 120, BreakMinutes = 30, MinShiftMinutes = 180 })
                .Task("a", 60).Task("b", 60), 60 + 30 + 60,
            OnlyAna.Rules(new() { MinShiftMinutes = 180 }).Task("a", 60).Task("b", 60), 120),
        // Opening the store is the first piece of Ana's work and a the last, so that the break lies between them.
        ["break after opening"] = new(
            OnlyAna.Rules(new() { BreakAfterMinutes = 120, BreakMinutes = 30, MinShiftMinutes = 180, KeyholderPresent = true,
                OpeningMinutes = 30 }).Task("a", 60), 30 + 30 + 60,
            OnlyAna.Rules(new() { BreakAfterMinutes = 120, BreakMinutes = 30, MinShiftMinutes = 180, KeyholderPresent = true,
                OpeningMinutes = 30, ClosingMinutes = 30 }).Task("a", 60), 30 + 60),
        ["briefing"] = new(OnlyAna.Rules(new() { BriefingMinutes = 20 }).Task("a", 60), 30 + 60, OnlyAna.Task("a", 60), 60),
        // a needs somebody beside it. The only other work of its zone comes with the props at 23:00, and c follows a.
        ["company"] = new(OnALadder.Rules(new() { Company = [new("ladder", 2)] }), 60 + 30 + 60, OnALadder, 120),
        ["pin to a time"] = new(Pinned(Everybody.Task("a", 60), new StintPin("a") { From = TinyWeek.Local("2027-03-08T23:00") }),
            120, Everybody.Task("a", 60), 60),
        ["pin to a night"] = new(
            Pinned(Everybody.Task("a", 120, task => task with { Stints = 2 }), new StintPin("a") { Stint = 2, Night = "tue" }),
            1440 + 60, Everybody.Task("a", 120, task => task with { Stints = 2 }), 120),
        ["pin to a person"] = new(Pinned(LateCy.Task("a", 60), new StintPin("a") { People = ["cy"] }), 120,
            LateCy.Task("a", 60), 60),
        ["pin of a day off"] = new(Pinned(OnlyAna.Task("a", 60), new ShiftPin("ana", "mon") { Off = true }), 1440 + 60,
            OnlyAna.Task("a", 60), 60),
        ["pin of a shift's start"] = new(
            Pinned(OnlyAna.Task("a", 60), new ShiftPin("ana", "mon") { From = TinyWeek.Local("2027-03-08T23:00") }), 120,
            OnlyAna.Task("a", 60), 60),
        // Half an hour on Monday is too short for a, so it waits for Tuesday.
        ["pin of a shift"] = new(
            Pinned(OnlyAna.Task("a", 60), new ShiftPin("ana", "mon") { From = TinyWeek.Local("2027-03-08T22:00"),
                To = TinyWeek.Local("2027-03-08T22:30") }), 1440 + 60,
            OnlyAna.Task("a", 60), 60),
    };

    public static TheoryData<string> Rules => new(Cases.Keys);

    private static TinyWeek OnALadder => Kit(Everybody, "2027-03-08T23:00")
        .Task("a", 30, task => task with { Traits = ["ladder"] }).Task("b", 60, task => task with { Needs = [new("props")] })
        .Task("c", 60, task => task with { After = [new("a")], Zone = "floor" });

    private static TinyWeek LateBo =>
        OnlyAna.Person("bo", member => member with { Available = [new("mon", TinyWeek.Local("2027-03-08T23:00"))] });

    private static TinyWeek LateCy => OnlyAna.Person("cy", member => member with
    {
        Skills = new Dictionary<string, int> { ["hands"] = 3 }, Available = [new("mon", TinyWeek.Local("2027-03-08T23:00"))],
    });

    [MiniZincTheory, MemberData(nameof(Rules))]
    public async Task Reference_and_planner_find_the_derived_optimum_with_the_rule_and_without_it(string rule)
    {
        var (with, finishWith, without, finishWithout) = Cases[rule];
        Assert.Equal((finishWith, finishWithout), (await Reference(with.Week), await Reference(without.Week)));
        Assert.Equal((finishWith, finishWithout), (Planned(with.Week), Planned(without.Week)));
        Assert.NotEqual(finishWith, finishWithout);
    }

    private static Task<long?> Reference(Week week) =>
        MiniZinc.Minimum("week.mzn", new MiniZincData(week).For(GoalId.Finish, new Dictionary<GoalId, long>()));

    private static long? Planned(Week week) =>
        Planner.Plan(week, Enough) is { Status: PlanStatus.Optimal } plan ? plan.Goals.Single().Value : null;

    private static TinyWeek Pinned(TinyWeek week, params Pin[] pins) => week.With(changed => changed with { Pins = pins });

    private static TinyWeek Kit(TinyWeek week, string eta) => week.Kit("props", eta);

    private static WeekTask OnLadder(WeekTask task) =>
        task with { Modes = [task.Modes[0] with { Equipment = [new("ladder", 1)] }] };
}
