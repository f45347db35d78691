using SetWeek.Model.Changes;
using SetWeek.Model.Files;
using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;
using SetWeek.Planning.Tests.Exact;
using static SetWeek.Planning.Tests.Bounds.BoundsWeek;

namespace SetWeek.Planning.Tests.Explaining.Repairs;

/// <summary>
/// A repair is one change, or two, that makes an infeasible week feasible. The exact model confirms it independently. For weeks
/// derived by hand the tests also check that the repair is the smallest on the grid.
/// </summary>
public sealed class RepairTests
{
    private static readonly SearchLimits Enough = new() { Effort = 8, Workers = 1 };

    /// <summary>
    /// The work takes 60 minutes and the night closes at 24:00. The kit must come by 23:00, or the night must last until 00:30.
    /// Opening earlier does not help.
    /// </summary>
    [Fact]
    public void A_late_kit_is_repaired_by_an_earlier_kit_or_a_longer_night()
    {
        var week = Week(1, Task("fill", 60) with { Needs = [new("props")] })
            with { Kits = [new("props", "Props", Evening(0, 90))] };
        var repairs = SingleRepairs(week);
        Assert.Contains(new KitEtaMoved("props", Evening(0, 60)), repairs);
        Assert.Contains(new NightWindowMoved("n1", Closes: Evening(0, 150)), repairs);
        Assert.DoesNotContain(repairs, change => change is NightWindowMoved { Opens: not null });
        Assert.Equal(new LeaveOut("wall"), repairs[^1]);
    }

    /// <summary>The work is due in the first night, but it is dry only in the second.</summary>
    [Fact]
    public void A_due_moves_to_the_first_feasible_night()
    {
        var week = Week(3, Task("paint", 60), Task("fill", 60) with { After = [new("paint") { DryMinutes = 1200 }], Due = "n1" });
        Assert.Contains(new DueMoved("fill", "n2"), SingleRepairs(week));
    }

    /// <summary>Lifting needs three people and the zone has room for one, so it needs room for three.</summary>
    [Fact]
    public void A_zone_gets_exactly_the_room_that_is_needed()
    {
        var plain = Week(1, Task("lift", 60) with { Modes = [new(60, [new("any", 3)])] });
        var week = plain with
        {
            Crew = [.. plain.Crew, Person("cat", 1)],
            Store = plain.Store with { Zones = [new("floor", "Floor", 1)] },
        };
        Assert.Contains(new ZoneCapacity("floor", 3), SingleRepairs(week));
    }

    /// <summary>Only Ann can rig, and she is not available.</summary>
    [Fact]
    public void A_missing_skill_is_repaired_by_an_extra_person_in_any_night()
    {
        var plain = Week(2, Task("rig", 60) with { Modes = [new(60, [new("rigging", 1) { Level = 2 }])] });
        var week = plain with { Crew = [Person("ann", 2, "rigging") with { Available = [] }, Person("bob", 2)] };
        var repairs = SingleRepairs(week);
        Assert.Contains(new ExtraPerson("n1", "rigging", 2), repairs);
        Assert.Contains(new ExtraPerson("n2", "rigging", 2), repairs);
    }

    /// <summary>Two musts are infeasible for independent reasons, so every repair needs two changes.</summary>
    [Fact]
    public void Two_independent_reasons_are_repaired_by_two_changes()
    {
        var week = Week(1, Task("fill", 60) with { Needs = [new("props")] },
            Task("rig", 60) with { Display = "shelf", Needs = [new("rails")] }) with
        {
            Kits = [new("props", "Props", null), new("rails", "Rails", null)],
            Displays = [new("wall", "Wall", DisplayCommitment.Must), new("shelf", "Shelf", DisplayCommitment.Must)],
        };
        var repairs = Repairs(week);
        Assert.All(repairs, repair => Assert.Equal(2, repair.Changes.Count));
        Assert.Contains(repairs, repair => repair.Changes.Contains(new KitEtaMoved("props", Evening(0, 60)))
            && repair.Changes.Contains(new KitEtaMoved("rails", Evening(0, 60))));
        Assert.Equal(repairs.Count,
            repairs.DistinctBy(repair => string.Join('\n', repair.Changes.Select(change => change.ToString()).Order())).Count());
    }

    /// <summary>
    /// Each repair gives a valid week with a plan. Its stated value of the first goal is not below the optimum.
    /// </summary>
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Repairs_of_random_weeks_give_plans_and_are_ordered_by_their_goals(bool tiny)
    {
        var seen = 0;
        for (var seed = 0; seed < 20; seed++)
        {
            var week = RandomWeeks.Make(seed, tiny);
            if (CpOptimum.Plan(Problem.Of(week)) is not null) continue;
            var repairs = Planner.Plan(week, Enough).Repairs;
            long[]? previous = null;
            foreach (var repair in repairs)
            {
                var changed = WeekChange.Apply(week, repair.Changes);
                // Some random weeks are not valid files, because nobody in the crew can fill a role.
                Assert.True(!IsValid(week) || IsValid(changed), $"seed {seed}: {repair.Sentence}");
                var best = CpOptimum.Plan(Problem.Of(changed));
                Assert.True(best is not null, $"seed {seed}: no plan: {repair.Sentence}");
                long[] values = [.. repair.Goals.Select(goal => goal.Value)];
                Assert.True(AllGoals.Of(week.Goals[0].Goal).Measure(Problem.Of(changed), best) <= values[0],
                    $"seed {seed}: {repair.Sentence}");
                var ranksLast = repair.Changes.Any(change => change is LeaveOut or LaunchMoved);
                if (!ranksLast)
                {
                    Assert.True(previous is null || previous.AsSpan().SequenceCompareTo(values) <= 0,
                        $"seed {seed}: {repair.Sentence}");
                    previous = values;
                }
            }
            Assert.Equal(repairs.Select(Rank).Order(), repairs.Select(Rank));
            seen += repairs.Count;
        }
        Assert.True(seen > 10, $"{seen} repairs are too few for this test");
    }

    [Fact]
    public void Repairs_are_unchanged_by_writing_and_reading_a_plan_file()
    {
        var week = Week(1, Task("fill", 60) with { Needs = [new("props")] })
            with { Kits = [new("props", "Props", Evening(0, 90))] };
        var plan = Planner.Plan(week, Enough);
        Assert.Equal(PlanStatus.Infeasible, plan.Status);
        Assert.NotEmpty(plan.Repairs);
        var read = PlanFile.Read(PlanFile.Write(plan), week).AsT0;
        Assert.Equal(plan.Repairs.SelectMany(repair => repair.Changes), read.Repairs.SelectMany(repair => repair.Changes));
        Assert.True(read.ConflictSmallest);
        Assert.False(PlanFile.Read(PlanFile.Write(plan with { ConflictSmallest = false }), week).AsT0.ConflictSmallest);
    }

    private static bool IsValid(Week week) => WeekFile.Read(WeekFile.Write(week)).IsT0;

    private static int Rank(Repair repair) =>
        repair.Changes.Max(change => change is LeaveOut ? 2 : change is LaunchMoved ? 1 : 0);

    private static WeekChange[] SingleRepairs(Week week)
    {
        var repairs = Repairs(week);
        Assert.All(repairs, repair => Assert.Single(repair.Changes));
        return [.. repairs.Select(repair => repair.Changes[0])];
    }

    private static IReadOnlyList<Repair> Repairs(Week week)
    {
        Assert.Null(CpOptimum.Plan(Problem.Of(week)));
        return Planner.Plan(week, Enough).Repairs;
    }
}
