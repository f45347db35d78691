using SetWeek.Model.Changes;
using SetWeek.Model.Files;
using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Tests;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Conflicts;
using SetWeek.Planning.Explaining.Repairs;
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
    /// Eight of ten clips are good, and the filling of 60 minutes needs them all in a night that closes at 24:00. They must come
    /// by 23:00, or somebody decides to go without two.
    /// </summary>
    [Fact]
    public void A_short_line_is_repaired_by_completing_or_settling_it()
    {
        var repairs = SingleRepairs(ShortOf("clip"));
        Assert.Contains(new MissingPiecesDelivered("props", "clip", Evening(0, 60)), repairs);
        Assert.Contains(new MissingPiecesSettled("props", "clip"), repairs);
        Assert.Equal(new LeaveOut("wall"), repairs[^1]);
        Assert.DoesNotContain(repairs, change => change is KitEtaMoved);
    }

    [Fact]
    public void Two_short_lines_of_one_kit_are_repaired_together()
    {
        var repairs = Repairs(ShortOf("clip", "rail"));
        Assert.Contains(repairs, repair => repair.Changes.Contains(new MissingPiecesDelivered("props", "clip", Evening(0, 60)))
            && repair.Changes.Contains(new MissingPiecesDelivered("props", "rail", Evening(0, 60))));
    }

    /// <summary>The kit is there, but eight of ten pieces of each of the items are good.</summary>
    private static Week ShortOf(params string[] items) =>
        Week(1, Task("fill", 60) with
        {
            Needs = [.. items.Select(item => new KitRequirement("props") { Item = item, Count = 10 })],
        })
        with
        {
            Kits = [new("props", "Props", Evening(0, -600))
            {
                Lines = [.. items.Select(item => new KitLine(item, 10) { Received = 9, Damaged = 1 })],
            }],
        };

    [Fact]
    public void An_unknown_arrival_is_repaired_by_a_time()
    {
        var week = Week(1, Task("fill", 60) with { Needs = [new("props")] }) with { Kits = [new("props", "Props", null)] };
        Assert.Contains(new KitEtaMoved("props", Evening(0, 60)), SingleRepairs(week));
    }

    /// <summary>Nobody in the crew has the keys. One keyholder in any of three nights suffices, which makes one line.</summary>
    [Fact]
    public void A_missing_keyholder_is_one_line()
    {
        var week = Week(3, Task("fill", 60)) with { Rules = new RuleSet { KeyholderPresent = true } };
        var repairs = Repairs(week);
        var extra = Assert.Single(repairs, repair => repair.Changes is [ExtraKeyholder]);
        Assert.DoesNotContain(repairs, repair => repair.Changes.Any(change => change is ExtraPerson));
        Assert.Equal("One more keyholder in the night of Mon 8 Mar. One in the night of Tue 9 Mar or the night of Wed 10 Mar would "
            + "do instead.", extra.Sentence);
    }

    /// <summary>
    /// Nobody has the keys, and the three tasks of two hours fill three nights, because Ann works alone. Neither one keyholder nor
    /// two suffice.
    /// </summary>
    [Fact]
    public void Keyholders_missing_in_three_nights_are_one_proposal()
    {
        var plain = Week(4, Task("a", 120), Task("b", 120), Task("c", 120) with { Due = "n3" });
        var week = plain with { Crew = [plain.Crew[0]], Rules = new RuleSet { KeyholderPresent = true } };
        var repair = Assert.Single(Repairs(week), repair => repair.Changes.All(change => change is ExtraKeyholder));
        Assert.Equal(3, repair.Changes.Distinct().Count());
        Assert.NotNull(CpOptimum.Plan(Problem.Of(WeekChange.Apply(week, repair.Changes))));
        for (var left = 0; left < 3; left++)
            Assert.Null(CpOptimum.Plan(Problem.Of(WeekChange.Apply(week, repair.Changes.Where((_, index) => index != left)))));
        Assert.StartsWith("One more keyholder in each of 3 nights: the night of Mon 8 Mar, the night of ", repair.Sentence);
    }

    /// <summary>Three people with the skill are away, and the work of the three nights is due in them.</summary>
    [Fact]
    public void A_skill_missing_in_three_nights_is_one_proposal()
    {
        var plain = Week(3, [.. Enumerable.Range(1, 3).Select(night => Task($"rig{night}", 120) with
        {
            Modes = [new(120, [new("rigging", 1) { Level = 2 }])], Due = $"n{night}",
        })]);
        var week = plain with { Crew = [.. plain.Crew, Person("cat", 3, "rigging") with { Available = [] }] };
        var repair = Assert.Single(Repairs(week), repair => repair.Changes.ToHashSet().SetEquals(
            Enumerable.Range(1, 3).Select(night => new ExtraPerson($"n{night}", "rigging", 2))));
        Assert.Equal("One more person with “rigging” at level 2 in each of 3 nights: the night of Mon 8 Mar, the night of Tue 9 Mar "
            + "and the night of Wed 10 Mar.", repair.Sentence);
    }

    /// <summary>Three lines are short. All of them are completed together, or all are settled.</summary>
    [Fact]
    public void Three_short_lines_are_one_proposal()
    {
        var repairs = Repairs(ShortOf("clip", "rail", "hook"));
        Assert.Contains(repairs, repair => repair.Changes.OfType<MissingPiecesDelivered>().Count() == 3 && repair.Changes.Count == 3);
        Assert.Contains(repairs, repair => repair.Changes.OfType<MissingPiecesSettled>().Count() == 3 && repair.Changes.Count == 3);
    }

    /// <summary>Rigging needs level 3 and Ann has level 2. A second task needs a skill that the crew has.</summary>
    [Fact]
    public void A_missing_level_is_repaired_by_a_person_of_that_level()
    {
        var plain = Week(1, Task("rig", 60) with { Modes = [new(60, [new("rigging", 1) { Level = 3 }])] }, Task("fill", 60));
        var week = plain with { Crew = [Person("ann", 1, "rigging", "any"), Person("bob", 1)] };
        Assert.Equal([new ExtraPerson("n1", "rigging", 3)], SingleRepairs(week).OfType<ExtraPerson>());
    }

    /// <summary>Rigging needs level 1. Somebody of that level is asked for, although another task needs level 2.</summary>
    [Fact]
    public void The_lowest_level_that_suffices_is_asked_for()
    {
        var week = Week(1, Task("rig", 60) with { Modes = [new(60, [new("rigging", 1)])] },
            Task("hoist", 60) with { Display = "shelf", Modes = [new(60, [new("rigging", 1) { Level = 2 }])] }) with
        {
            Displays = [new("wall", "Wall", DisplayCommitment.Must), new("shelf", "Shelf", DisplayCommitment.Want) { Value = 5 }],
        };
        Assert.Equal([new ExtraPerson("n1", "rigging", 1)], SingleRepairs(week).OfType<ExtraPerson>());
    }

    /// <summary>
    /// The kit never comes, so the wall would have to be left out. That is no repair where the wall has the last task, work for
    /// safety, or the only work that opens a way out.
    /// </summary>
    [Theory]
    [InlineData(null, false, true)]
    [InlineData(null, true, false)]
    [InlineData("safety", false, false)]
    [InlineData("way-out", false, false)]
    public void An_essential_display_is_never_left_out(string? trait, bool last, bool leftOut)
    {
        var week = Week(1, Task("fill", 60) with { Needs = [new("props")], Traits = trait is null ? [] : [trait], Last = last })
            with { Kits = [new("props", "Props", null)] };
        Assert.Equal(leftOut, SingleRepairs(week).Contains(new LeaveOut("wall")));
    }

    /// <summary>
    /// In the weeks of the demo: counts and checks, the strike with its hung pieces, the floor with its ways out, what hangs in
    /// the window or stands on the steps, and the final floor stay, whatever is in conflict.
    /// </summary>
    [Theory]
    [InlineData("harbour-street", "feature-wall", "form-groups", "cycle")]
    [InlineData("mill-lane", "feature-wall", "form-groups", "umbrella-stand")]
    public void First_Rain_never_loses_a_display_that_keeps_people_safe(string store, params string[] leftOut)
    {
        var week = WeekFile.Read(ExampleFiles.Read($"{store}.week.json")).AsT0;
        var conflict = new Conflict([.. AllRelaxableRules.Of(week).Where(rule => rule.Rule == RuleId.Whole)], true, week);
        Assert.Equal(leftOut, new RepairCandidates(week, null).For(conflict).Select(change => change.Largest).OfType<LeaveOut>()
            .Select(change => change.Display));
        foreach (var (task, trait) in new[]
            { ("floor.widths", "way-out"), ("strike.entrance", "way-out"), ("strike.hung", "safety"), ("canopy.second", "safety"),
                ("steps.anchor", "safety"), ("ready.power", "safety") })
            Assert.Contains(trait, week.Tasks.Single(one => one.Id == task).Traits);
    }

    /// <summary>
    /// Posing has begun on the shelf; securing it in the same night belongs to the wall, which cannot be left out. The other
    /// display has nothing to do with it, and can.
    /// </summary>
    [Fact]
    public void A_display_that_secures_begun_work_may_not_be_left_out()
    {
        var week = Week(1, Task("pose", 30) with { Display = "shelf" },
            Task("tie", 30) with { After = [new("pose") { SameNight = true }] },
            Task("lock", 30) with { Display = "door", After = [new("tie") { SameNight = true }] },
            Task("fill", 30) with { Display = "case" })
            with
        {
            Displays = [.. new[] { "wall", "shelf", "door", "case" }.Select(id => new Display(id, id, DisplayCommitment.Must))],
        };
        var from = Problem.Of(week).Grid.TimeOf(0);
        var published = new Plan
        {
            Week = week.Id, Status = PlanStatus.Feasible,
            Nights = [new PlannedNight
            {
                Night = "n1", Shifts = [new("ann", from, Problem.Of(week).Grid.TimeOf(120))],
                Work = [new PlannedWork
                {
                    Task = "pose", Stint = 1, Mode = 0, From = from, To = Problem.Of(week).Grid.TimeOf(30),
                    People = [new("ann", "any")],
                }],
            }],
        };
        var replan = new Replan(published, Evening(0, 40), [new ProgressReport { Task = "pose", State = WorkState.Done }]);
        Assert.Equal(["case"], week.Displays.Where(display => EssentialDisplays.MayBeLeftOut(week, replan, display))
            .Select(display => display.Id));
        Assert.Equal(4, week.Displays.Count(display => EssentialDisplays.MayBeLeftOut(week, null, display)));
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
                var ranksLast = repair.Changes.Any(change => change is LeaveOut or LaunchTimeMoved or MissingPiecesSettled);
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
        WeekChange[] three = [new ExtraKeyholder("n1"), new KitEtaMoved("props", null), new ExtraPerson("n1", "any")];
        var together = plan with { Repairs = [plan.Repairs[0] with { Changes = three }] };
        Assert.Equal(three, PlanFile.Read(PlanFile.Write(together), week).AsT0.Repairs.Single().Changes);
    }

    private static bool IsValid(Week week) => WeekFile.Read(WeekFile.Write(week)).IsT0;

    private static int Rank(Repair repair) =>
        repair.Changes.Max(change => change is LeaveOut ? 2 : change is LaunchTimeMoved or MissingPiecesSettled ? 1 : 0);

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
