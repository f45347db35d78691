using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Slack;
using SetWeek.Planning.Search;
using SetWeek.Planning.Tests.Exact;
using static SetWeek.Planning.Tests.Bounds.BoundsWeek;

namespace SetWeek.Planning.Tests.Explanations;

/// <summary>
/// An instance has no slack exactly where a week with its number one step tighter is one whose rules the same plan breaks, as the
/// check says, which knows nothing of slack.
/// </summary>
public sealed class NoSlackTests
{
    /// <summary>60 minutes from 23:00, when the kit is in, to 24:00, when the night closes; one of two people is free.</summary>
    [Fact]
    public void A_kit_just_in_time_and_a_night_that_is_full_are_told_and_nothing_else()
    {
        var week = Week(1, Task("fill", 60) with { Needs = [new("props")] })
            with { Kits = [new("props", "Props", Evening(0, 60))] };
        var plan = Planner.Plan(week with { Crew = [week.Crew[0], week.Crew[1]], Goals = [new(GoalId.Cost)] },
            new SearchLimits { Effort = 5, Workers = 1 });
        Assert.Equal([(RuleId.Kit, "props"), (RuleId.Skill, null), (RuleId.Window, null)],
            plan.Tight.Select(one => (one.Rule, one.About.Kit)));
        Assert.Equal(("any", "n1"), (plan.Tight[1].About.Skill, plan.Tight[1].About.Night));
    }

    /// <summary>With an hour to spare on either side, the one on shift is still the only one who could do it.</summary>
    [Fact]
    public void A_minute_short_of_a_step_is_no_slack_and_a_step_is()
    {
        IEnumerable<RuleId> Tight(int eta)
        {
            var week = Week(1, Task("fill", 60) with { Needs = [new("props")] })
                with { Kits = [new("props", "Props", Evening(0, eta))] };
            var problem = Problem.Of(week);
            var work = new ScheduledWork(0, 0, 0, 0, 30, 90, [new(0, 0)]);
            return TightRules.Of(problem,
                new Schedule { Shifts = [new(0, 0, 0, 120, null), new(1, 0, 0, 115, null)], Work = [work], Keyholders = [null] })
                .Select(one => one.Rule);
        }
        Assert.Contains(RuleId.Kit, Tight(26));
        Assert.DoesNotContain(RuleId.Kit, Tight(25));
        Assert.DoesNotContain(RuleId.Skill, Tight(25));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void In_weeks_made_by_chance_what_one_step_would_break_is_told_and_nothing_else(bool tiny)
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

            Same(RuleId.Launch, WorkSlack.Launch(problem, works), week with { Launch = week.Launch.PlusMinutes(-step) });
            Same(RuleId.Kit, WorkSlack.Kits(problem, works),
                week with { Kits = [week.Kits[0] with { Eta = week.Kits[0].Eta!.Value.PlusMinutes(step) }] });
            Same(RuleId.Drying, WorkSlack.Drying(problem, plan, works), week with
            {
                Tasks = [.. week.Tasks.Select(task => task with
                {
                    After = [.. task.After
                        .Select(precedence => precedence.DryMinutes == 0 ? precedence : precedence with { DryMinutes = precedence.DryMinutes + step })],
                })],
            });
            Same(RuleId.ZoneClosed, WorkSlack.ZoneClosed(problem, plan, works), week with
            {
                Tasks = [.. week.Tasks.Select(task => task.ClosesZoneMinutes == 0 ? task
                    : task with { ClosesZoneMinutes = task.ClosesZoneMinutes + step })],
            });
            Same(RuleId.Equipment, WorkSlack.Equipment(problem, plan, works), week with
            {
                Store = week.Store
                    with { Equipment = [.. week.Store.Equipment.Select(piece => piece with { Count = piece.Count - 1 })] },
            });
            Same(RuleId.ZoneRoom, WorkSlack.ZoneCapacities(problem, plan, works), week with
            {
                Store = week.Store
                    with { Zones = [.. week.Store.Zones.Select(zone => zone with { MaxPeople = zone.MaxPeople - 1 })] },
            });
            Same(RuleId.Rest, CrewSlack.Rest(problem, plan, shifts), week with
            {
                Rules = week.Rules with { MinRestMinutes = week.Rules.MinRestMinutes + step },
            });
            Same(RuleId.TwoPerson, CrewSlack.TwoPerson(problem, shifts), week with
            {
                Rules = week.Rules with { MinPeople = week.Rules.MinPeople + 1 },
            });
            Same(RuleId.Window, WorkSlack.NightWindows(problem, works, shifts), week with
            {
                Nights = [.. week.Nights.Select(night => night with { Closes = night.Closes.PlusMinutes(-step) })],
            });

            void Same(RuleId rule, IEnumerable<Breach> tight, Week tighter)
            {
                var broken = AllRules.InOrder.Single(one => one.Id == rule).Check(Problem.Of(tighter), plan).Any();
                Assert.True(broken == tight.Any(),
                    $"seed {seed}, {rule}: broken {broken}; told {string.Join(' ', tight.Select(one => one.Sentence))}");
                if (broken) seen++;
            }
        }
        Assert.True(seen > 10, $"{seen} are too few to say anything");
    }
}
