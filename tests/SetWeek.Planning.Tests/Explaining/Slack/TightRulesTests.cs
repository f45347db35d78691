using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Model.Tests;
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
        var (seen, seenOf) = (0, new HashSet<RuleId>());
        for (var seed = 0; seed < 200; seed++)
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

            AssertTight(RuleId.Break, CrewSlack.Breaks(problem, shifts),
                week with { Rules = week.Rules with { BreakClearMinutes = week.Rules.BreakClearMinutes + step } },
                week with
                {
                    Rules = week.Rules with
                    {
                        BreakAfterMinutes = week.Rules.BreakAfterMinutes - step,
                        Under18 = week.Rules.Under18 is { } young
                            ? young with { BreakAfterMinutes = young.BreakAfterMinutes - step } : null,
                    },
                });
            AssertTight(RuleId.Briefing, CrewSlack.Briefing(problem, plan, works),
                week with { Rules = week.Rules with { BriefingMinutes = week.Rules.BriefingMinutes + step } });
            AssertTight(RuleId.Company, WorkSlack.Company(problem, plan, works), week with
            {
                Rules = week.Rules with
                {
                    Company = [.. week.Rules.Company.Select(company => company with { People = company.People + 1 })],
                },
            });

            void AssertTight(RuleId rule, IEnumerable<Breach> tight, params Week[] tighter)
            {
                var broken = tighter.Any(week =>
                    AllRules.InOrder.Single(candidate => candidate.Id == rule).Check(Problem.Of(week), plan).Any());
                Assert.True(broken == tight.Any(),
                    $"seed {seed}, {rule}: broken {broken}; tight {string.Join(' ', tight.Select(breach => breach.Sentence))}");
                if (!broken) return;
                seen++;
                seenOf.Add(rule);
            }
        }
        Assert.True(seen > 10, $"{seen} broken rules are too few for this test");
        if (!tiny) Assert.Superset(new HashSet<RuleId> { RuleId.Break, RuleId.Briefing, RuleId.Company }, seenOf);
    }

    /// <summary>
    /// Both start work right after the briefing of 15 minutes, and nobody else is beside the ladder. Ana's break starts an hour
    /// into her shift, and Bo has none in three hours.
    /// </summary>
    [Fact]
    public void A_break_a_briefing_and_company_without_slack_are_told_in_words()
    {
        var plan = TinyWeek.New.Rules(new()
            {
                BreakAfterMinutes = 180, BreakMinutes = 30, BreakClearMinutes = 60, BriefingMinutes = 15, Company = [new("ladder", 2)],
            })
            .Task("hang", 30, task => task with { Traits = ["ladder"] }).Task("fill", 30).Task("tidy", 60, "hang").Plan
            .Shift("mon", "ana", "22:00", "02:00", "23:00", "23:30").Shift("mon", "bo", "22:00", "01:00")
            .Work("mon", "hang", "22:15", "22:45", "ana").Work("mon", "fill", "22:15", "22:45", "bo")
            .Work("mon", "tidy", "23:30", "00:30", "ana");
        Assert.Empty(plan.BrokenRules);
        var tight = TightRules.Of(plan.Problem, plan.Schedule);
        Assert.Equal(
            [
                "Ana's break Mon 8 Mar 23:00 to 23:30 starts as soon as it may, 1 h into the shift.",
                "Bo's shift Mon 8 Mar 22:00 to 01:00 is as long as it may be without a break.",
            ],
            tight.Where(breach => breach.Rule == RuleId.Break).Select(breach => breach.Sentence));
        Assert.Equal("From Mon 8 Mar 22:15 just 2 people are at work in Wall, the least that “hang” needs as “ladder” work.",
            Assert.Single(tight, breach => breach.Rule == RuleId.Company).Sentence);
        Assert.Equal("In the night of Mon 8 Mar Ana and Bo start work as soon as the briefing is over.",
            Assert.Single(tight, breach => breach.Rule == RuleId.Briefing).Sentence);
    }
}
