using SetWeek.Model.Changes;
using SetWeek.Model.Files;
using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Search;
using SetWeek.Planning.Tests.Exact;
using static SetWeek.Planning.Tests.Bounds.BoundsWeek;

namespace SetWeek.Planning.Tests.Explanations;

/// <summary>
/// A repair is a change, or two, with which the week has a plan: the exact model, asked apart, says so, and says that the change
/// before it on the grid would not have done where weeks are argued by hand.
/// </summary>
public sealed class RepairTests
{
    private static readonly SearchLimits Enough = new() { Effort = 8, Workers = 1 };

    /// <summary>
    /// 60 minutes of work in a night that closes at 24:00: the kit at 23:00 at the latest, or the night to 24:30, opened at
    /// 22:00.
    /// </summary>
    [Fact]
    public void A_late_kit_may_come_an_hour_before_the_night_ends_or_the_night_may_be_longer()
    {
        var week = Week(1, Task("fill", 60) with { Needs = [new("props")] })
            with { Kits = [new("props", "Props", Evening(0, 90))] };
        var repairs = Repaired(week);
        Assert.Contains(new KitEtaMoved("props", Evening(0, 60)), repairs);
        Assert.Contains(new NightWindowMoved("n1", Closes: Evening(0, 150)), repairs);
        Assert.DoesNotContain(repairs, change => change is NightWindowMoved { Opens: not null });
        Assert.Equal(new LeaveOut("wall"), repairs[^1]);
    }

    /// <summary>Due the first night and dry only in the second.</summary>
    [Fact]
    public void A_due_moves_to_the_first_night_that_does()
    {
        var week = Week(3, Task("paint", 60), Task("fill", 60) with { After = [new("paint") { DryMinutes = 1200 }], Due = "n1" });
        Assert.Contains(new DueMoved("fill", "n2"), Repaired(week));
    }

    /// <summary>Three have to lift and one fits; room for three is the least that does.</summary>
    [Fact]
    public void A_zone_gets_as_much_room_as_it_takes_and_no_more()
    {
        var plain = Week(1, Task("lift", 60) with { Modes = [new(60, [new("any", 3)])] });
        var week = plain with
        {
            Crew = [.. plain.Crew, Person("cat", 1)],
            Store = plain.Store with { Zones = [new("floor", "Floor", 1)] },
        };
        Assert.Contains(new ZoneCapacity("floor", 3), Repaired(week));
    }

    /// <summary>Ann alone can rig, and she is away; cost: one more is paid like Ann.</summary>
    [Fact]
    public void Where_nobody_with_the_skill_can_come_one_more_person_helps_in_any_night()
    {
        var plain = Week(2, Task("rig", 60) with { Modes = [new(60, [new("rigging", 1) { Level = 2 }])] });
        var week = plain with { Crew = [Person("ann", 2, "rigging") with { Available = [] }, Person("bob", 2)] };
        var repairs = Repaired(week);
        Assert.Contains(new ExtraPerson("n1", "rigging", 2), repairs);
        Assert.Contains(new ExtraPerson("n2", "rigging", 2), repairs);
    }

    /// <summary>Two musts, each with a reason of its own: neither alone helps, and each pair is two of their changes.</summary>
    [Fact]
    public void Where_no_single_change_helps_two_together_do()
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

    /// <summary>Whatever is offered is a valid week with a plan, whose goals are not below what is best in them.</summary>
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void In_weeks_made_by_chance_every_repair_makes_a_plan_possible_and_they_come_in_the_order_of_their_goals(bool tiny)
    {
        var seen = 0;
        for (var seed = 0; seed < 20; seed++)
        {
            var week = RandomWeeks.Make(seed, tiny);
            if (CpOptimum.Plan(Problem.Of(week)) is not null) continue;
            var repairs = Planner.Plan(week, Enough).Repairs;
            long[]? before = null;
            foreach (var repair in repairs)
            {
                var changed = WeekChange.Apply(week, repair.Changes);
                // Not every week made by chance is one that a file may hold: a role may find nobody in the crew.
                Assert.True(!Valid(week) || Valid(changed), $"seed {seed}: {repair.Sentence}");
                var best = CpOptimum.Plan(Problem.Of(changed));
                Assert.True(best is not null, $"seed {seed}: no plan: {repair.Sentence}");
                long[] values = [.. repair.Goals.Select(goal => goal.Value)];
                Assert.True(AllGoals.Of(week.Goals[0].Goal).Measure(Problem.Of(changed), best) <= values[0],
                    $"seed {seed}: {repair.Sentence}");
                var last = repair.Changes.Any(change => change is LeaveOut or LaunchMoved);
                if (!last)
                {
                    Assert.True(before is null || before.AsSpan().SequenceCompareTo(values) <= 0,
                        $"seed {seed}: {repair.Sentence}");
                    before = values;
                }
            }
            Assert.Equal(repairs.Select(Rank).Order(), repairs.Select(Rank));
            seen += repairs.Count;
        }
        Assert.True(seen > 10, $"{seen} repairs are too few to say anything");
    }

    [Fact]
    public void A_plan_file_with_them_reads_back_the_same()
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

    private static bool Valid(Week week) => WeekFile.Read(WeekFile.Write(week)).IsT0;

    private static int Rank(Repair repair) =>
        repair.Changes.Max(change => change is LeaveOut ? 2 : change is LaunchMoved ? 1 : 0);

    private static WeekChange[] Repaired(Week week)
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
