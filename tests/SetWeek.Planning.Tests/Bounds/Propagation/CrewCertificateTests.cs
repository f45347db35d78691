using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Bounds.Propagation;
using static SetWeek.Planning.Tests.Bounds.BoundsWeek;
using static SetWeek.Planning.Tests.Bounds.CertificateAssert;

namespace SetWeek.Planning.Tests.Bounds.Propagation;

/// <summary>
/// Requirements of the crew: each makes one tiny week infeasible and is named as the reason. With one minute or one person more
/// the week is feasible.
/// </summary>
public sealed class CrewCertificateTests
{
    [Fact]
    public void A_role_that_nobody_can_fill_is_named_with_its_skill()
    {
        Week Level(int level) => Week(1, Task("rig", 30) with { Modes = [new(30, [new("any", 1) { Level = level }])] });
        Infeasible(Level(3), RuleId.Skill, about => about.Skill == "any" && about.Task == "rig");
        Feasible(Level(2));
    }

    [Fact]
    public void Three_people_required_of_a_crew_of_two_are_infeasible()
    {
        Week Requiring(int people) => Week(1, Task("lift", 30) with { Modes = [new(30, [new("any", people)])] });
        Assert.True(RootPropagation.Of(Problem.Of(Requiring(3))).Infeasible);
        Feasible(Requiring(2));
    }

    [Fact]
    public void A_night_without_a_keyholder_is_infeasible_because_of_the_keyholder()
    {
        Week Keys(bool keyholder) => Week(1, Task("fill", 60)) is var week ? week with
        {
            Rules = new() { KeyholderPresent = true },
            Crew = [week.Crew[0] with { Keyholder = keyholder }, week.Crew[1]],
        } : week;
        Infeasible(Keys(false), RuleId.Keyholder, about => about.Task == "fill");
        Feasible(Keys(true));
    }

    [Fact]
    public void Opening_and_closing_that_leave_too_little_time_are_infeasible()
    {
        Week Opening(int minutes) => Week(1, Task("fill", 60)) is var week ? week with
        {
            Rules = new() { KeyholderPresent = true, OpeningMinutes = minutes, ClosingMinutes = 30 },
            Crew = [.. week.Crew.Select(member => member with { Keyholder = true })],
        } : week;
        Infeasible(Opening(35), RuleId.Window, about => about.Task == "fill");
        Feasible(Opening(30));
    }

    [Fact]
    public void A_second_person_who_comes_too_late_makes_the_night_too_short()
    {
        Week SecondPersonFrom(int from) => Week(1, Task("fill", 60)) is var week ? week with
        {
            Rules = new() { MinPeople = 2 },
            Crew = [week.Crew[0], week.Crew[1] with { Available = [new("n1", Evening(0, from))] }],
        } : week;
        Infeasible(SecondPersonFrom(65), RuleId.Window, about => about.Task == "fill");
        Feasible(SecondPersonFrom(60));
    }

    [Fact]
    public void Rest_after_a_day_shift_that_leaves_too_little_time_is_infeasible()
    {
        Week Rested(int rest) => Week(1, Task("fill", 60)) is var week ? week with
        {
            Rules = new() { MinRestMinutes = rest },
            Crew = [week.Crew[0] with { Commitments = [new(Evening(0, -300), Evening(0, -240))] }],
        } : week;
        Infeasible(Rested(305), RuleId.Window, about => about.Task == "fill");
        Feasible(Rested(300));
    }

    [Fact]
    public void A_joined_day_shift_counts_in_the_maximum_of_the_working_day()
    {
        // Two hours of day work, 20:00 to 22:00, count in a working day of at most 3 h 30 min.
        Week Joined(int longest) => Week(1, Task("fill", 90)) is var week ? week with
        {
            Rules = new() { MinRestMinutes = 600, JoinMinutes = 0, MaxShiftMinutes = longest },
            Crew = [week.Crew[0] with { Commitments = [new(Evening(0, -120), Evening(0))] }],
        } : week;
        Assert.True(RootPropagation.Of(Problem.Of(Joined(205))).Infeasible);
        Feasible(Joined(210));
    }

    [Fact]
    public void Barred_work_is_infeasible_for_a_young_worker()
    {
        Week Barred(string trait) => Week(1, Task("hang", 60) with { Traits = ["ladder"] }) is var week ? week with
        {
            Rules = new() { Under18 = new() { Barred = [trait] } },
            Crew = [week.Crew[0] with { Under18 = true }],
        } : week;
        Assert.True(RootPropagation.Of(Problem.Of(Barred("ladder"))).Infeasible);
        Feasible(Barred("noisy"));
    }

    [Fact]
    public void Too_much_work_of_a_skill_is_named_with_its_hours()
    {
        Week Hours(int minutes) =>
            Week(1, Task("left", 60), Task("right", minutes) with { Modes = [new(minutes, [new("rigging", 1)])] },
            Task("top", 60) with { Modes = [new(60, [new("rigging", 1)])] }) with { Crew =
                [Person("ann", 1), Person("bob", 1, "rigging")] };
        var reason = Infeasible(Hours(65), RuleId.Skill, about => about.Skill == "rigging");
        Assert.Contains("2 h 5 min", reason.Sentence, StringComparison.Ordinal);
        Feasible(Hours(60));
    }
}
