using CsCheck;
using NodaTime;
using SetWeek.Model.Checking;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Reasons.Restrictions;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Tests.Explaining.Reasons;

/// <summary>
/// Properties of the restrictions on earlier starts, compared with the checker for every stint of plans of random weeks.
/// </summary>
public sealed class StartRestrictionTests
{
    private static readonly SearchLimits Short = new() { Effort = 0.5, Workers = 1 };

    /// <summary>
    /// Rules that can be relaxed by changing numbers of the week. The other restrictions come from other work, from hours
    /// outside the nights and from breaks.
    /// </summary>
    private static readonly RuleId[] Relaxable =
        [RuleId.Kit, RuleId.Drying, RuleId.After, RuleId.SameNight, RuleId.Ban, RuleId.ZoneRoom, RuleId.Equipment,
            RuleId.ZoneClosed,
            RuleId.Availability, RuleId.Rest, RuleId.ShiftLength,
            RuleId.TwoPerson, RuleId.Keyholder, RuleId.OpenClose, RuleId.YoungWorker];

    [Fact]
    public void A_feasible_start_breaks_no_rule_and_a_forbidden_one_breaks_its_restrictions() =>
        ForEveryStint((subject, starts) =>
    {
        var move = new StintMove(subject);
        foreach (var start in starts)
        {
            Assert.True(start.Minute < subject.Work.From);
            if (start.FeasibleSchedule is { } open)
            {
                Assert.Empty(Checker.Check(subject.Problem, open));
                Assert.Equal(start.Minute, open.WorkByStint(subject.Problem)[subject.Stint.Index]!.From);
                continue;
            }
            var broken = Checker.Check(subject.Problem, move.To(start.Night, start.Minute, subject.Work.Assignments))
                .Select(breach => breach.Rule).ToHashSet();
            Assert.NotEmpty(broken);
            // A minute before the opening of a night represents all starts outside the nights.
            if (!IsInNight(subject, start)) continue;
            // For a start before the predecessor ends, the checker reports "after" and not "drying".
            foreach (var hold in start.BlockingSets.SelectMany(set => set).Where(hold => hold.Forbids(start.Minute)))
                Assert.True(broken.Contains(hold.Rule) || (hold.Rule == RuleId.Drying && broken.Contains(RuleId.After)),
                    $"{hold.Rule.Text()} at {start.Minute}");
        }
    });

    [Fact]
    public void The_named_restrictions_cover_every_forbidden_start_irreducibly() => ForEveryStint((_, starts) =>
    {
        CandidateStart[] forbidden = [.. starts.Where(start => start.FeasibleSchedule is null)];
        var named = IrreducibleCover.Of(forbidden);
        Assert.True(forbidden.All(start => start.BlockingSets.Any(set => set.All(named.Contains))));
        foreach (var hold in named)
            Assert.Contains(forbidden, start => start.BlockingSets.All(set =>
                !set.All(other => other != hold && named.Contains(other))));
    });

    /// <summary>
    /// Relaxes the named rules one after another. In the end the start is feasible, or the remaining restrictions cannot be
    /// relaxed.
    /// </summary>
    [Fact]
    public void A_start_is_feasible_once_its_restrictions_are_relaxed() => ForEveryStint((subject, starts) =>
    {
        foreach (var start in starts.Where(start => start.FeasibleSchedule is null && IsInNight(subject, start))
            .Where((_, index) => index % 5 == 0))
        {
            var (week, current) = (subject.Problem.Week, start);
            for (var round = 0; round < 12 && current.FeasibleSchedule is null; round++)
            {
                StartRestriction[] relaxed = [.. current.BlockingSets.SelectMany(set => set)
                    .Where(hold => Relaxable.Contains(hold.Rule))];
                if (relaxed.Length == 0) break;
                var rules = relaxed.Select(hold => hold.ToBlockingRule(subject.Problem)).ToArray();
                foreach (var hold in rules) week = Without(week, hold.Rule, hold.About.Zone);
                current = At(subject, week, start);
                Assert.DoesNotContain(current.BlockingSets.SelectMany(set => set),
                    hold => rules.Any(rule => rule.Rule == hold.Rule
                        && rule.About.Zone == hold.ToBlockingRule(subject.Problem).About.Zone));
            }
            Assert.True(current.FeasibleSchedule is not null
                || current.BlockingSets.All(set => set.Any(hold => !Relaxable.Contains(hold.Rule))));
        }
    });

    private static void ForEveryStint(Action<ExplanationSubject, IReadOnlyList<CandidateStart>> check) =>
        TinyWeekGenerator.Any.Sample(week =>
    {
        var (problem, plan) = (Problem.Of(week), Planner.Plan(week, Short));
        var schedule = PlanConverter.ScheduleOf(problem, plan);
        foreach (var work in schedule.Work.Where(work => work.Stint is not null))
        {
            var subject = new ExplanationSubject(problem, schedule, work);
            check(subject, [.. new EarlierStartScan(subject).NearestFirst()]);
        }
    }, iter: 15, threads: 1);

    private static bool IsInNight(ExplanationSubject subject, CandidateStart start) =>
        start.Minute >= subject.Problem.Nights[start.Night].Opens;

    private static CandidateStart At(ExplanationSubject subject, Week week, CandidateStart start)
    {
        var relaxed = new ExplanationSubject(Problem.Of(week), subject.Schedule, subject.Work);
        return new EarlierStartScan(relaxed).NearestFirst().Single(same =>
            same.Night == start.Night && same.Minute == start.Minute);
    }

    private static Week Without(Week week, RuleId rule, string? zone)
    {
        return rule switch
        {
            RuleId.Kit => week with { Kits = [.. week.Kits.Select(kit =>
                kit with { Eta = new LocalDateTime(2000, 1, 1, 0, 0) })] },
            RuleId.Drying or RuleId.After or RuleId.SameNight => Tasks(task => task with { After = [] }),
            RuleId.ZoneClosed => Tasks(task => task with { ClosesZoneMinutes = 0 }),
            RuleId.Ban => week with { Nights = [.. week.Nights.Select(night => night with { Bans = [] })] },
            RuleId.ZoneRoom => week with
            {
                Store = week.Store
                    with { Zones = [.. week.Store.Zones
                        .Select(room => room.Id == zone ? room with { MaxPeople = null } : room)] },
            },
            RuleId.Equipment => week with { Store = week.Store
                with { Equipment = [.. week.Store.Equipment.Select(equipment => equipment with { Count = 99 })] } },
            RuleId.Availability => week with
            {
                Crew = [.. week.Crew
                    .Select(member => member with { Available = [.. week.Nights.Select(All)], Commitments = [] })],
            },
            RuleId.Rest => Rules(rules => rules with { MinRestMinutes = null }),
            RuleId.ShiftLength => Rules(rules => rules with { MinShiftMinutes = null, MaxShiftMinutes = null }),
            RuleId.TwoPerson => Rules(rules => rules with { MinPeople = null }),
            RuleId.Keyholder or RuleId.OpenClose => Rules(rules => rules with { KeyholderPresent = false }),
            _ => Rules(rules => rules with { Under18 = null }),
        };

        // Longer than the night, because the hours of the night are another rule.
        static Availability All(Night night) => new(night.Id, night.Opens.PlusHours(-6), night.Closes.PlusHours(6));
        Week Tasks(Func<WeekTask, WeekTask> change) => week with { Tasks = [.. week.Tasks.Select(change)] };
        Week Rules(Func<RuleSet, RuleSet> change) => week with { Rules = change(week.Rules) };
    }
}
