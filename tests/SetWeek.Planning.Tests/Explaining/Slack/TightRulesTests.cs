using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Slack;
using SetWeek.Planning.Search;
using SetWeek.Planning.Tests.Exact;
using static SetWeek.Planning.Tests.Bounds.BoundsWeek;

namespace SetWeek.Planning.Tests.Explaining.Slack;

/// <summary>
/// A rule instance has no slack exactly if the plan breaks that rule in the week whose number is one step tighter. The checker,
/// which is independent of the slack, decides that.
/// </summary>
public sealed class TightRulesTests
{
    /// <summary>
    /// The kit comes at 23:00, the work takes 60 minutes, and the night closes at 24:00. One of the two people has no shift.
    /// </summary>
    [Fact]
    public void A_kit_and_a_night_without_slack_are_listed()
    {
        var week = Week(1, Task("fill", 60) with { Needs = [new("props")] })
            with { Kits = [new("props", "Props", Evening(0, 60))] };
        var plan = Planner.Plan(week with { Crew = [week.Crew[0], week.Crew[1]], Goals = [new(GoalId.Cost)] },
            new SearchLimits { Effort = 5, Workers = 1 });
        Assert.Equal([(RuleId.Kit, "props"), (RuleId.Skill, null), (RuleId.Window, null)],
            plan.Tight.Select(breach => (breach.Rule, breach.About.Kit)));
        Assert.Equal(("any", "n1"), (plan.Tight[1].About.Skill, plan.Tight[1].About.Night));
    }

    /// <summary>The work starts 30 minutes after the opening, on a grid of 5 minutes. Two people are on shift.</summary>
    [Fact]
    public void Slack_below_one_step_of_the_grid_counts_as_none()
    {
        IEnumerable<RuleId> Tight(int eta)
        {
            var week = Week(1, Task("fill", 60) with { Needs = [new("props")] })
                with { Kits = [new("props", "Props", Evening(0, eta))] };
            var problem = Problem.Of(week);
            var work = new ScheduledWork(0, 0, 0, 0, 30, 90, [new(0, 0)]);
            return TightRules.Of(problem,
                new Schedule { Shifts = [new(0, 0, 0, 120, null), new(1, 0, 0, 115, null)], Work = [work], Keyholders = [null] })
                .Select(breach => breach.Rule);
        }
        Assert.Contains(RuleId.Kit, Tight(26));
        Assert.DoesNotContain(RuleId.Kit, Tight(25));
        Assert.DoesNotContain(RuleId.Skill, Tight(25));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void In_random_weeks_a_rule_is_tight_exactly_if_one_step_breaks_it(bool tiny)
    {
        var seen = 0;
        for (var seed = 0; seed < 60; seed++)
        {
            var week = RandomWeeks.Make(seed, tiny);
            var problem = Problem.Of(week);
            if (CpOptimum.Plan(problem) is not { } plan) continue;
            ScheduledWork[] works = [.. plan.Work.OrderBy(work => work.From)];
            ScheduledShift[] shifts = [.. plan.Shifts.OrderBy(shift => shift.From)];
            var step = week.GridMinutes;

            AssertTight(RuleId.Launch, WorkSlack.Launch(problem, works), week with { Launch = week.Launch.PlusMinutes(-step) });
            AssertTight(RuleId.Kit, WorkSlack.Kits(problem, works),
                week with { Kits = [week.Kits[0] with { Eta = week.Kits[0].Eta!.Value.PlusMinutes(step) }] });
            AssertTight(RuleId.Drying, WorkSlack.Drying(problem, plan, works), week with
            {
                Tasks = [.. week.Tasks.Select(task => task with
                {
                    After = [.. task.After
                        .Select(precedence => precedence.DryMinutes == 0 ? precedence
                            : precedence with { DryMinutes = precedence.DryMinutes + step })],
                })],
            });
            AssertTight(RuleId.ZoneClosed, WorkSlack.ZoneClosed(problem, plan, works), week with
            {
                Tasks = [.. week.Tasks.Select(task => task.ClosesZoneMinutes == 0 ? task
                    : task with { ClosesZoneMinutes = task.ClosesZoneMinutes + step })],
            });
            AssertTight(RuleId.Equipment, WorkSlack.Equipment(problem, plan, works), week with
            {
                Store = week.Store
                    with { Equipment = [.. week.Store.Equipment.Select(equipment =>
                        equipment with { Count = equipment.Count - 1 })] },
            });
            AssertTight(RuleId.ZoneRoom, WorkSlack.ZoneCapacities(problem, plan, works), week with
            {
                Store = week.Store
                    with { Zones = [.. week.Store.Zones.Select(zone => zone with { MaxPeople = zone.MaxPeople - 1 })] },
            });
            AssertTight(RuleId.Rest, CrewSlack.Rest(problem, plan, shifts), week with
            {
                Rules = week.Rules with { MinRestMinutes = week.Rules.MinRestMinutes + step },
            });
            AssertTight(RuleId.TwoPerson, CrewSlack.TwoPerson(problem, shifts), week with
            {
                Rules = week.Rules with { MinPeople = week.Rules.MinPeople + 1 },
            });
            AssertTight(RuleId.Window, WorkSlack.NightWindows(problem, works, shifts), week with
            {
                Nights = [.. week.Nights.Select(night => night with { Closes = night.Closes.PlusMinutes(-step) })],
            });

            void AssertTight(RuleId rule, IEnumerable<Breach> tight, Week tighter)
            {
                var broken = AllRules.InOrder.Single(candidate => candidate.Id == rule).Check(Problem.Of(tighter), plan).Any();
                Assert.True(broken == tight.Any(),
                    $"seed {seed}, {rule}: broken {broken}; tight {string.Join(' ', tight.Select(breach => breach.Sentence))}");
                if (broken) seen++;
            }
        }
        Assert.True(seen > 10, $"{seen} broken rules are too few for this test");
    }
}
