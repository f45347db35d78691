using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Bounds.Propagation;
using static SetWeek.Planning.Tests.Bounds.BoundsWeek;
using static SetWeek.Planning.Tests.Bounds.CertificateAssert;

namespace SetWeek.Planning.Tests.Bounds;

/// <summary>
/// What people can give: each requirement makes one tiny week impossible and is named for it; one minute or one person more
/// and the week is not.
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
    public void Three_people_wanted_of_a_crew_of_two_is_a_matter_of_skill_or_hands()
    {
        Week Wanting(int people) => Week(1, Task("lift", 30) with { Modes = [new(30, [new("any", people)])] });
        Assert.True(RootPropagation.Of(Problem.Of(Wanting(3))).Infeasible);
        Feasible(Wanting(2));
    }

    [Fact]
    public void A_night_without_a_keyholder_is_put_down_to_the_keyholder()
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
    public void Opening_and_closing_that_leave_too_little_of_the_night_are_seen()
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
    public void Somebody_alone_in_the_store_is_put_down_to_whoever_cannot_come()
    {
        Week Second(int from) => Week(1, Task("fill", 60)) is var week ? week with
        {
            Rules = new() { MinPeople = 2 },
            Crew = [week.Crew[0], week.Crew[1] with { Available = [new("n1", Evening(0, from))] }],
        } : week;
        Infeasible(Second(65), RuleId.Window, about => about.Task == "fill");
        Feasible(Second(60));
    }

    [Fact]
    public void Rest_after_a_day_shift_that_leaves_too_little_of_the_night_is_seen()
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
    public void Joined_with_a_day_shift_the_working_day_counts_whole()
    {
        // From 20:00 to 22:00 in the shop, then the night: two hours of a day of at most 3 h 30 are gone.
        Week Joined(int longest) => Week(1, Task("fill", 90)) is var week ? week with
        {
            Rules = new() { MinRestMinutes = 600, JoinMinutes = 0, MaxShiftMinutes = longest },
            Crew = [week.Crew[0] with { Commitments = [new(Evening(0, -120), Evening(0))] }],
        } : week;
        Assert.True(RootPropagation.Of(Problem.Of(Joined(205))).Infeasible);
        Feasible(Joined(210));
    }

    [Fact]
    public void What_young_workers_may_not_do_is_left_to_the_others()
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
    public void More_work_of_a_skill_than_those_who_have_it_can_give_is_named_with_the_hours()
    {
        Week Hours(int minutes) =>
            Week(1, Task("left", 60), Task("right", minutes) with { Modes = [new(minutes, [new("rigging", 1)])] },
            Task("top", 60) with { Modes = [new(60, [new("rigging", 1)])] }) with { Crew =
                [Person("ann", 1), Person("bob", 1, "rigging")] };
        var why = Infeasible(Hours(65), RuleId.Skill, about => about.Skill == "rigging");
        Assert.Contains("2 h 5 min", why.Sentence, StringComparison.Ordinal);
        Feasible(Hours(60));
    }
}
