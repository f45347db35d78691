using SetWeek.Model.Checking;
using SetWeek.Model.Files;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Conflicts;
using SetWeek.Planning.Search;
using SetWeek.Planning.Tests.Exact;
using static SetWeek.Planning.Tests.Bounds.BoundsWeek;

namespace SetWeek.Planning.Tests.Explaining.Conflicts;

/// <summary>
/// A conflict is an irreducible infeasible set of rule instances. For tiny weeks it is derived by hand. For random weeks the
/// exact model, independent of the conflict search, confirms that the set is infeasible and that no member can be dropped.
/// </summary>
public sealed class ConflictTests
{
    private static readonly string[] Wall = ["whole display wall"];

    /// <summary>
    /// The kit comes at 23:30 and the night closes at 24:00, so 60 minutes do not fit. An earlier kit, a longer night or leaving
    /// out the wall would each resolve it. The launch is two days later and plays no part.
    /// </summary>
    [Fact]
    public void A_late_kit_conflicts_with_the_end_of_its_night_and_the_must()
    {
        var week = Week(1, Task("fill", 60) with { Needs = [new("props")] })
            with { Kits = [new("props", "Props", Evening(0, 90))] };
        Assert.Equal([.. Wall, "kit kit props", "window night n1"], Members(week));
    }

    /// <summary>
    /// The kit comes at noon, after the only night even if it were six hours longer, so its hours play no part.
    /// </summary>
    [Fact]
    public void A_kit_after_every_night_conflicts_with_the_must_alone()
    {
        var week = Week(1, Task("fill", 60) with { Needs = [new("props")] })
            with { Kits = [new("props", "Props", Evening(0, 840))] };
        Assert.Equal([.. Wall, "kit kit props"], Members(week));
    }

    /// <summary>
    /// Painting takes 60 minutes, drying four hours, filling 60, and filling is due in the first night of 120 minutes. Without
    /// the due, without drying, or in a longer night it fits.
    /// </summary>
    [Fact]
    public void Drying_and_a_due_are_members_with_their_task()
    {
        var week = Week(2, Task("paint", 60), Task("fill", 60) with { After = [new("paint") { DryMinutes = 240 }], Due = "n1" },
            Task("other", 30) with { Due = "n2" });
        Assert.Equal([.. Wall, "due task fill night n1", "window night n1", "drying task fill"], Members(week));
    }

    /// <summary>
    /// Three tasks of 80 minutes for two people in a night of 120. The total of 240 minutes fits, but two of the tasks would have
    /// to follow each other, seedText propagation does not detect. Both people have every skill, so only the night and the wall
    /// are members.
    /// </summary>
    [Fact]
    public void Tasks_that_do_not_fit_in_parallel_conflict_with_the_night() =>
        Assert.Equal([.. Wall, "window night n1"], Members(Week(1, Task("left", 80), Task("middle", 80), Task("right", 80))));

    /// <summary>
    /// Only Bob can rig. Between the two nights, from 11:00 to noon, he has a commitment, and he must rest 20 hours before and
    /// after it. The first night ends 11 hours before, the second starts 10 hours after; six hours more would not suffice.
    /// Changing his rest, his commitment, the skill or the wall resolves the conflict, and nothing else does.
    /// </summary>
    [Fact]
    public void The_rest_and_the_skill_of_one_person_are_members()
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

    /// <summary>The week is infeasible for two independent reasons. Each is a conflict by itself, and one is reported.</summary>
    [Fact]
    public void One_of_two_independent_conflicts_is_reported()
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
            member => member.Contains("wall", StringComparison.Ordinal) && members.Contains("whole display shelf"));
    }

    /// <summary>Forty people with names of more than 190 letters, of whom none has the required level.</summary>
    [Fact]
    public void A_plan_file_with_long_names_in_a_conflict_can_be_read()
    {
        var plain = Week(1, Task("rig", 60) with { Modes = [new(60, [new("any", 1) { Level = 3 }])] });
        var week = plain with
        {
            Crew = [.. Enumerable.Range(10, 40)
                .Select(number => Person($"p{number}", 1) with { Name = $"{number}{new string('a', 190)}" })],
        };
        var plan = Planner.Plan(week, new SearchLimits { Effort = 3, Workers = 1 });
        Assert.Contains(plan.Conflict, member => member.Rule == RuleId.Skill);
        Assert.True(PlanFile.Read(PlanFile.Write(plan), week).IsT0);
    }

    [Fact]
    public void Without_budget_the_conflict_is_not_called_irreducible()
    {
        var week = Week(1, Task("left", 80), Task("middle", 80), Task("right", 80));
        var conflict = new ConflictSearch(week, new FeasibilityProbe(null, Budget(0))).Find();
        Assert.False(conflict.Irreducible);
        Assert.NotEmpty(conflict.Members);
    }

    /// <summary>
    /// With all rules outside the conflict relaxed there is no plan. With any one member relaxed as well there is one.
    /// </summary>
    [Theory]
    [InlineData(true, 60)]
    [InlineData(false, 60)]
    public void The_conflicts_of_random_weeks_are_infeasible_and_irreducible(bool tiny, int seeds) =>
        Assert.True(Enumerable.Range(0, seeds)
            .Count(seed => IsIrreducible(Problem.Of(RandomWeeks.Make(seed, tiny)), $"seed {seed}")) > 5);

    [Theory]
    [InlineData(true, 150)]
    [InlineData(false, 100)]
    public void The_conflicts_of_random_replans_are_infeasible_and_irreducible(bool tiny, int seeds) =>
        Assert.True(Enumerable.Range(0, seeds)
            .Count(seed => RandomReplans.Make(seed, tiny) is { } problem && IsIrreducible(problem, $"seed {seed}")) > 2);

    /// <summary>False if the week has a plan and so no conflict.</summary>
    private static bool IsIrreducible(Problem problem, string seedText)
    {
        if (CpOptimum.Plan(problem) is not null) return false;
        var week = problem.Week;
        var conflict = new ConflictSearch(week, new FeasibilityProbe(problem.Replan, Budget(60))).Find();
        Assert.True(conflict.Irreducible, $"{seedText}: {string.Join("; ", conflict.Members.Select(Name))}");
        var members = conflict.Members.SelectMany(Leaves).Select(Name).ToHashSet();
        var relaxed = Relax(week, AllRelaxableRules.Of(week).SelectMany(Leaves).Where(leaf => !members.Contains(Name(leaf))));
        Assert.True(CpOptimum.Plan(Problem.Of(relaxed, problem.Replan)) is null,
            $"{seedText}: {string.Join("; ", members)} are feasible together");
        foreach (var member in conflict.Members)
        {
            var without = Problem.Of(Relax(relaxed, Leaves(member)), problem.Replan);
            var plan = CpOptimum.Plan(without);
            Assert.True(plan is not null, $"{seedText}: {Name(member)} can be dropped from {string.Join("; ", members)}");
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

    private static Week Relax(Week week, IEnumerable<RelaxableRule> rules) =>
        rules.Aggregate(week, (relaxed, relaxable) => relaxable.Relax(relaxed));

    private static IEnumerable<RelaxableRule> Leaves(RelaxableRule relaxable) =>
        relaxable.Parts.Count == 0 ? [relaxable] : relaxable.Parts;

    /// <summary>The rule and the ids of its subject. Two bans of one night have the same ids, so the trait is added.</summary>
    private static string Name(RelaxableRule relaxable) =>
        relaxable.Parts.Count > 0 ? $"{relaxable.Rule.Text()} ({string.Join(" + ", relaxable.Parts.Select(Name))})"
        : string.Join(' ',
            ((string?[])[relaxable.Rule.Text(), Id("night", relaxable.Rule == RuleId.Due ? null : relaxable.About.Night),
                Id("person", relaxable.About.Person),
            Id("task", relaxable.About.Task), Id("night", relaxable.Rule == RuleId.Due ? relaxable.About.Night : null),
            Id("zone", relaxable.About.Zone),
            Id("kit", relaxable.About.Kit), Id("display", relaxable.About.Display), Id("skill", relaxable.About.Skill),
            Id("equipment", relaxable.About.Equipment), relaxable.Rule == RuleId.Ban ? relaxable.Name : null]).OfType<string>());

    private static string? Id(string kind, string? id) => id is null ? null : $"{kind} {id}";
}
