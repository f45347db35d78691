using SetWeek.Model.Plans;
using SetWeek.Model.Checking;
using SetWeek.Model.Files;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Conflicts;
using SetWeek.Planning.Search;
using SetWeek.Planning.Tests.Exact;
using static SetWeek.Planning.Tests.Bounds.BoundsWeek;

namespace SetWeek.Planning.Tests.Explanations;

/// <summary>
/// A conflict is a set of rule instances of which none can be dropped: for tiny weeks it is argued by hand which, for weeks
/// made by chance the exact model says so, asked apart from the search that found them.
/// </summary>
public sealed class ConflictTests
{
    private static readonly string[] Wall = ["whole display wall"];

    /// <summary>
    /// The kit is in at 23:30 and the night closes at 24:00: 60 minutes do not fit. An earlier kit, a longer night, or no wall,
    /// would each do. The launch is two days off.
    /// </summary>
    [Fact]
    public void A_late_kit_and_the_end_of_its_night_are_in_it_with_what_must_stand()
    {
        var week = Week(1, Task("fill", 60) with { Needs = [new("props")] })
            with { Kits = [new("props", "Props", Evening(0, 90))] };
        Assert.Equal([.. Wall, "kit kit props", "window night n1"], Members(week));
    }

    /// <summary>
    /// In at noon, after the only night however long it were (six hours at the most): its hours do not matter then.
    /// </summary>
    [Fact]
    public void A_kit_after_every_night_is_in_it_without_the_hours_of_the_nights()
    {
        var week = Week(1, Task("fill", 60) with { Needs = [new("props")] })
            with { Kits = [new("props", "Props", Evening(0, 840))] };
        Assert.Equal([.. Wall, "kit kit props"], Members(week));
    }

    /// <summary>
    /// Paint 60, four hours of drying, fill 60, in one night of 120 since it is due then: without the due there is the second
    /// night, without drying it fits, in a night of 14 hours too.
    /// </summary>
    [Fact]
    public void Drying_and_a_due_are_in_it_by_the_task_that_they_are_of()
    {
        var week = Week(2, Task("paint", 60), Task("fill", 60) with { After = [new("paint") { DryMinutes = 240 }], Due = "n1" },
            Task("other", 30) with { Due = "n2" });
        Assert.Equal([.. Wall, "due task fill night n1", "window night n1", "drying task fill"], Members(week));
    }

    /// <summary>
    /// Three pieces of 80 minutes for two people in a night of 120: by minutes (240 of 240) they fit, side by side they do
    /// not, which no certificate sees. There are but these two, and they can do everything: it is the night and the wall.
    /// </summary>
    [Fact]
    public void Pieces_that_do_not_fit_side_by_side_are_put_down_to_the_length_of_the_night() =>
        Assert.Equal([.. Wall, "window night n1"], Members(Week(1, Task("left", 80), Task("middle", 80), Task("right", 80))));

    /// <summary>
    /// Two nights, and Bob alone can rig; between them, from 11:00 to noon, he is in the shop, and rests 20 hours on either
    /// side of it: the first night ends 11 hours before, the second begins 10 after. Six hours earlier or later would not be
    /// 20 either. His rest, the hour in the shop, that only he can rig, or the wall: any of these might give way, and nothing
    /// else.
    /// </summary>
    [Fact]
    public void One_persons_rest_and_skill_are_named_and_nobody_elses()
    {
        var plain = Week(2, Task("rig", 60) with { Modes = [new(60, [new("rigging", 1)])] });
        var week = plain with
        {
            Crew = [Person("ann", 2),
                Person("bob", 2, "any", "rigging") with { Commitments = [new(Evening(1, -660), Evening(1, -600))] }],
            Rules = new RuleSet { MinRestMinutes = 1200 },
        };
        Assert.Equal([.. Wall, "skill skill rigging", "availability person bob", "rest person bob"], Members(week));
    }

    /// <summary>Two reasons that have nothing to do with one another: one of them is a conflict by itself.</summary>
    [Fact]
    public void Of_two_reasons_one_is_told()
    {
        var week = Week(1, Task("fill", 60) with { Needs = [new("props")] }, Task("long", 1200) with { Display = "shelf" }) with
        {
            Kits = [new("props", "Props", null)],
            Displays = [new("wall", "Wall", DisplayCommitment.Must), new("shelf", "Shelf", DisplayCommitment.Must)],
        };
        var members = Members(week);
        Assert.True(members is ["whole display wall", "kit kit props"] or ["whole display shelf", ..],
            string.Join("; ", members));
        Assert.DoesNotContain(members,
            one => one.Contains("wall", StringComparison.Ordinal) && members.Contains("whole display shelf"));
    }

    /// <summary>Forty people with names of 190 letters, none of whom can lead.</summary>
    [Fact]
    public void However_long_and_many_the_names_are_the_plan_file_can_be_read_again()
    {
        var plain = Week(1, Task("rig", 60) with { Modes = [new(60, [new("any", 1) { Level = 3 }])] });
        var week = plain with
        {
            Crew = [.. Enumerable.Range(10, 40)
                .Select(one => Person($"p{one}", 1) with { Name = $"{one}{new string('a', 190)}" })],
        };
        var plan = Planner.Plan(week, new SearchLimits { Effort = 3, Workers = 1 });
        Assert.Contains(plan.Conflict, member => member.Rule == RuleId.Skill);
        Assert.True(PlanFile.Read(PlanFile.Write(plan), week).IsT0);
    }

    [Fact]
    public void With_no_time_left_it_says_that_it_may_not_be_the_smallest()
    {
        var week = Week(1, Task("left", 80), Task("middle", 80), Task("right", 80));
        var conflict = new ConflictSearch(week, new FeasibilityProbe(null, Budget(0))).Find();
        Assert.False(conflict.Irreducible);
        Assert.NotEmpty(conflict.Members);
    }

    /// <summary>What is not a member is lifted; then there is no plan, and without any one of the members there is one.</summary>
    [Theory]
    [InlineData(true, 60)]
    [InlineData(false, 60)]
    public void In_weeks_made_by_chance_no_member_can_be_dropped_and_together_they_leave_no_plan(bool tiny, int seeds) =>
        Assert.True(Enumerable.Range(0, seeds)
            .Count(seed => Irreducible(Problem.Of(RandomWeeks.Make(seed, tiny)), $"seed {seed}")) > 5);

    [Theory]
    [InlineData(true, 150)]
    [InlineData(false, 100)]
    public void In_re_plans_too(bool tiny, int seeds) =>
        Assert.True(Enumerable.Range(0, seeds)
            .Count(seed => RandomReplans.Make(seed, tiny) is { } problem && Irreducible(problem, $"seed {seed}")) > 2);

    /// <summary>False where there is a plan, and so no conflict.</summary>
    private static bool Irreducible(Problem problem, string which)
    {
        if (CpOptimum.Plan(problem) is not null) return false;
        var week = problem.Week;
        var conflict = new ConflictSearch(week, new FeasibilityProbe(problem.Replan, Budget(60))).Find();
        Assert.True(conflict.Irreducible, $"{which}: {string.Join("; ", conflict.Members.Select(Name))}");
        var members = conflict.Members.SelectMany(Leaves).Select(Name).ToHashSet();
        var alone = Lift(week, AllRelaxableRules.Of(week).SelectMany(Leaves).Where(leaf => !members.Contains(Name(leaf))));
        Assert.True(CpOptimum.Plan(Problem.Of(alone, problem.Replan)) is null,
            $"{which}: {string.Join("; ", members)} can hold together");
        foreach (var member in conflict.Members)
        {
            var without = Problem.Of(Lift(alone, Leaves(member)), problem.Replan);
            var plan = CpOptimum.Plan(without);
            Assert.True(plan is not null, $"{which}: {Name(member)} can be dropped from {string.Join("; ", members)}");
            Assert.Empty(Checker.Check(without, plan));
        }
        return true;
    }

    private static string[] Members(Week week)
    {
        Assert.Null(CpOptimum.Plan(Problem.Of(week)));
        var conflict = Find(week);
        Assert.True(conflict.Irreducible);
        return [.. conflict.Members.Select(Name)];
    }

    private static Conflict Find(Week week) => new ConflictSearch(week, new FeasibilityProbe(null, Budget(60))).Find();

    private static Budget Budget(double effort) => new(new SearchLimits { Effort = effort, Workers = 1 }, CancellationToken.None);

    private static Week Lift(Week week, IEnumerable<RelaxableRule> reliefs) =>
        reliefs.Aggregate(week, (lifted, relaxable) => relaxable.Relax(lifted));

    private static IEnumerable<RelaxableRule> Leaves(RelaxableRule relaxable) => relaxable.Parts.Count == 0 ? [relaxable] : relaxable.Parts;

    /// <summary>The rule and the ids: bans of one night have the same, so the trait tells them apart.</summary>
    private static string Name(RelaxableRule relaxable) =>
        relaxable.Parts.Count > 0 ? $"{relaxable.Rule.Text()} ({string.Join(" + ", relaxable.Parts.Select(Name))})"
        : string.Join(' ',
            ((string?[])[relaxable.Rule.Text(), Id("night", relaxable.Rule == RuleId.Due ? null : relaxable.About.Night),
                Id("person", relaxable.About.Person),
            Id("task", relaxable.About.Task), Id("night", relaxable.Rule == RuleId.Due ? relaxable.About.Night : null),
            Id("zone", relaxable.About.Zone),
            Id("kit", relaxable.About.Kit), Id("display", relaxable.About.Display), Id("skill", relaxable.About.Skill),
            Id("equipment", relaxable.About.Equipment), relaxable.Rule == RuleId.Ban ? relaxable.Name : null]).OfType<string>());

    private static string? Id(string what, string? id) => id is null ? null : $"{what} {id}";
}
