using System.Collections.Concurrent;
using SetWeek.Model.Changes;
using SetWeek.Model.Checking;
using SetWeek.Model.Durations;
using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Simulation;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Replanning;
using SetWeek.Planning.Risk.Reports;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Replanning;

/// <summary>
/// The options of a re-plan, on generated weeks after a change. Each option is a complete plan of the changed week, none dominates
/// another, and no two are nearly equal. The tests follow from the definition of options.
/// </summary>
public class OptionSearchTests
{
    private static readonly SearchLimits Short = new() { Effort = 0.3, Workers = 1 },
        Options = new() { Effort = 0.8, Workers = 1 };

    /// <summary>Each case is solved once for all tests.</summary>
    private static readonly ConcurrentDictionary<(string, int, string),
        Lazy<(Week Week, Replan Replan, ReplanOffer Offer)>> Solved = [];

    public static TheoryData<string, int, string> Cases => new()
    {
        { "small", 4, "kit" }, { "small", 15, "kit" }, { "small", 15, "person" }, { "small", 6, "night" }, { "medium", 4, "kit" },
    };

    [Theory, MemberData(nameof(Cases))]
    public void Each_option_breaks_no_rule_and_has_correct_goal_values(string size,
        int seed, string fact)
    {
        var (week, replan, offer) = Offered(size, seed, fact);
        var problem = Problem.Of(week, replan);
        Assert.All(offer.Options, option =>
        {
            Assert.Empty(Checker.Check(problem, PlanConverter.ScheduleOf(problem, option.Plan)));
            Assert.Empty(PlanAudit.Discrepancies(problem, option.Plan));
            Assert.All(option.Costs, cost => Assert.Equal(PlanAudit.Measure(problem, option.Plan, cost.Goal), cost.Value));
        });
    }

    /// <summary>The chance is that of 10,000 runs which the search has not seen: those of the next seed.</summary>
    [Theory, MemberData(nameof(Cases))]
    public void Each_option_has_its_chance_measured_on_fresh_runs(string size, int seed, string fact)
    {
        var (week, replan, offer) = Offered(size, seed, fact);
        var problem = Problem.Of(week, replan);
        Assert.All(offer.Options, option =>
        {
            var runs = HeldScenarios.Of(problem, PlanConverter.ScheduleOf(problem, option.Plan), new RiskOptions
            {
                Runs = 10_000, Seed = week.Hold.Seed, GraceMinutes = week.Hold.GraceMinutes,
            });
            Assert.Equal((runs.Held, runs.Secured, 10_000, 80), (option.Chance!.Holds.Held, option.Chance.Secured.Held,
                option.Chance.Holds.Runs, option.Chance.AskedPercent));
        });
    }

    [Fact]
    public void Options_have_no_chance_while_the_search_runs_and_after_a_stop()
    {
        var (week, replan, _) = Offered("small", 4, "kit");
        var (during, found) = (new List<HoldChance?>(), new CancellationTokenSource());
        var offer = OptionSearch.Find(week, Options, replan, progress =>
        {
            during.AddRange(progress.Options.Select(option => option.Chance));
            found.Cancel();
        }, found.Token);
        Assert.NotEmpty(during);
        Assert.All(during.Concat(offer.Options.Select(option => option.Chance)), Assert.Null);
        Assert.NotEmpty(offer.Options);
    }

    [Theory, MemberData(nameof(Cases))]
    public void At_most_three_options_of_different_kinds_have_the_same_goals(string size, int seed, string fact)
    {
        var options = Offered(size, seed, fact).Offer.Options;
        Assert.InRange(options.Count, 1, 3);
        Assert.Equal(options.Count, options.Select(option => option.Id).Distinct().Count());
        Assert.All(options, option =>
            Assert.Equal(options[0].Costs.Select(cost => cost.Goal), option.Costs.Select(cost => cost.Goal)));
    }

    [Theory, MemberData(nameof(Cases))]
    public void No_option_dominates_or_nearly_equals_another(string size, int seed, string fact)
    {
        var options = Offered(size, seed, fact).Offer.Options;
        foreach (var option in options)
            foreach (var other in options.Where(other => other != option))
            {
                Assert.Contains(option.Costs.Zip(other.Costs), pair => pair.First.Value < pair.Second.Value);
                Assert.False(OptionSelection.IsNearlyEqual(option, other), $"{option.Id} is nearly {other.Id}.");
            }
    }

    [Fact]
    public void The_same_effort_gives_the_same_options()
    {
        var (week, replan, offer) = Offered("small", 15, "kit");
        var again = OptionSearch.Find(week, Options, replan);
        Assert.Equal(offer.Options.Select(option => option.Id), again.Options.Select(option => option.Id));
        Assert.Equal(offer.Options.SelectMany(option => option.Costs), again.Options.SelectMany(option => option.Costs));
    }

    /// <summary>The published plan leaves nothing out: a re-plan would place what it leaves out, and that is a change.</summary>
    [Fact]
    public void Without_a_necessary_change_the_first_option_changes_nothing()
    {
        var week = PlannerTests.Generated("small", 4);
        var published = Planner.Plan(week, new SearchLimits { Effort = 2, Workers = 1 });
        Assert.Empty(published.LeftOut);
        var offer = OptionSearch.Find(week, Short, new Replan(published, week.Nights[0].Opens.PlusHours(-10), []));
        Assert.Equal(("fewest-changes", 0), (offer.Options[0].Id, offer.Options[0].Cost(GoalId.Changes)));
    }

    /// <summary>
    /// Changes come before hold in the week's goals, and after it in the option's. The published plan was made for 80 %, and now 99 %
    /// are asked for.
    /// </summary>
    [Fact]
    public void The_surest_option_falls_less_short_of_the_chance_than_the_one_with_the_fewest_changes()
    {
        var (offered, replan, _) = Offered("small", 4, "kit");
        var week = offered with { Hold = offered.Hold with { Chance = 99 } };
        var situation = new ReplanSituation(Problem.Of(week, replan));
        long ShortfallOf(IOptionKind kind)
        {
            var subproblem = new OptionSubproblem(kind, situation, [.. week.ReplanGoals.Select(choice => choice.Goal)], () => { });
            subproblem.Search(new Budget(new SearchLimits { Effort = 2, Workers = 1 }, CancellationToken.None), 2);
            return subproblem.Option!.Cost(GoalId.Hold);
        }
        Assert.InRange(ShortfallOf(new Surest()), 0, ShortfallOf(new FewestChanges()) - 1);
        Assert.Null(new Surest().For(new ReplanSituation(Problem.Of(HoldGoal.WithoutHold(week), replan))));
    }

    /// <summary>An option for the earliest finish is also optimised for the finish, which this week does not ask for.</summary>
    [Fact]
    public void The_plan_of_each_option_names_the_goals_of_the_week_in_their_order()
    {
        var (generated, replan, _) = Offered("small", 15, "kit");
        GoalChoice[] asked = [new(GoalId.Changes), new(GoalId.Cost)];
        var situation = new ReplanSituation(Problem.Of(generated with { ReplanGoals = asked }, replan));
        foreach (var kind in new IOptionKind[] { new FewestChanges(), new Cheapest(), new EarliestFinish() })
        {
            var subproblem = new OptionSubproblem(kind, situation, [GoalId.Changes, GoalId.Cost], () => { });
            subproblem.Search(new Budget(Options, CancellationToken.None), 1);
            var plan = subproblem.Option!.Plan;
            Assert.Equal(asked.Select(choice => choice.Goal), plan.Goals.Select(goal => goal.Goal));
            Assert.Empty(PlanAudit.Discrepancies(situation.Problem, plan));
        }
    }

    [Fact]
    public void A_week_without_a_plan_has_no_options()
    {
        var week = PlannerTests.Generated("small", 4);
        var published = Planner.Plan(week, Short);
        var infeasible = week with { Crew = [.. week.Crew.Select(member => member with { Available = [] })] };
        var offer = OptionSearch.Find(infeasible, Short, new Replan(published, week.Nights[0].Opens.PlusHours(-10), []));
        Assert.Empty(offer.Options);
        Assert.Equal(PlanStatus.Infeasible, offer.Plan.Status);
    }

    [Fact]
    public void Progress_shows_the_options_found_so_far()
    {
        var (week, replan, _) = Offered("small", 15, "kit");
        var seen = new List<OptionSearchProgress>();
        OptionSearch.Find(week, Options, replan, seen.Add);
        Assert.Equal("fewest-changes", Assert.Single(seen[0].Options).Id);
        Assert.All(seen, progress => Assert.InRange(progress.Options.Count, 1, 3));
    }

    private static (Week Week, Replan Replan, ReplanOffer Offer) Offered(string size, int seed, string fact) =>
        Solved.GetOrAdd((size, seed, fact), _ => new(() => Solve(size, seed, fact))).Value;

    private static (Week Week, Replan Replan, ReplanOffer Offer) Solve(string size, int seed, string fact)
    {
        var week = PlannerTests.Generated(size, seed);
        var published = Planner.Plan(week, Short);
        var kit = week.Kits.Single(kit => kit.Id == "kit-signs");
        var third = published.Nights.Single(night => night.Night == week.Nights[2].Id);
        WeekChange change = fact switch
        {
            "kit" => new KitEtaMoved(kit.Id, kit.Eta!.Value.PlusDays(1)),
            "person" => new Absence(third.Shifts.First(shift => shift.Person != third.Keyholder).Person, third.Night),
            _ => new NightWindowMoved(third.Night, Closes: week.Nights[2].Closes.PlusMinutes(-30)),
        };
        var replan = new Replan(published, week.Nights[0].Opens.PlusHours(-10), []);
        var changed = change.Apply(week);
        return (changed, replan, OptionSearch.Find(changed, Options, replan));
    }
}
