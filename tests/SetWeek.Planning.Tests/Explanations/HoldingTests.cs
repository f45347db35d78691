using SetWeek.Model.Plans;
using CsCheck;
using NodaTime;
using SetWeek.Model.Checking;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Explaining.Reasons.Holding;
using SetWeek.Planning.Search;
using SetWeek.Planning.Tests.Generated;

namespace SetWeek.Planning.Tests.Explanations;

/// <summary>What holds for every stint of every plan, tried on plans of weeks made by chance; the check is the judge.</summary>
public sealed class HoldingTests
{
    private static readonly SearchLimits Short = new() { Effort = 0.5, Workers = 1 };

    /// <summary>
    /// Rules whose instances are numbers of a week file; the others are other work, hours in which no night is open, and
    /// breaks, which a plan has.
    /// </summary>
    private static readonly RuleId[] Liftable =
        [RuleId.Kit, RuleId.Drying, RuleId.After, RuleId.SameNight, RuleId.Ban, RuleId.ZoneRoom, RuleId.Equipment, RuleId.ZoneClosed,
            RuleId.Availability, RuleId.Rest, RuleId.ShiftLength,
            RuleId.TwoPerson, RuleId.Keyholder, RuleId.OpenClose, RuleId.YoungWorker];

    [Fact]
    public void An_open_start_breaks_nothing_and_a_barred_one_breaks_what_bars_it() => EveryStint((subject, starts) =>
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
            // A moment of the day before a night stands for starts in no night at all.
            if (!IsInNight(subject, start)) continue;
            // The check says "after" of a start before the end itself, where the paint is not dry either.
            foreach (var hold in start.BlockingSets.SelectMany(set => set).Where(hold => hold.Forbids(start.Minute)))
                Assert.True(broken.Contains(hold.Rule) || (hold.Rule == RuleId.Drying && broken.Contains(RuleId.After)),
                    $"{hold.Rule.Text()} at {start.Minute}");
        }
    });

    [Fact]
    public void What_is_named_bars_every_start_that_is_not_open_and_none_of_it_can_be_left_out() => EveryStint((_, starts) =>
    {
        CandidateStart[] stopped = [.. starts.Where(start => start.FeasibleSchedule is null)];
        var named = IrreducibleCover.Of(stopped);
        Assert.True(stopped.All(start => start.BlockingSets.Any(set => set.All(named.Contains))));
        foreach (var hold in named)
            Assert.Contains(stopped, start => start.BlockingSets.All(set => !set.All(one => one != hold && named.Contains(one))));
    });

    /// <summary>
    /// Instance by instance the named rules are taken out of the week; in the end the start is open, or what is left cannot
    /// be lifted.
    /// </summary>
    [Fact]
    public void Without_the_rules_that_bar_a_start_it_is_open_or_other_work_bars_it() => EveryStint((subject, starts) =>
    {
        foreach (var start in starts.Where(start => start.FeasibleSchedule is null && IsInNight(subject, start))
            .Where((_, at) => at % 5 == 0))
        {
            var (week, left) = (subject.Problem.Week, start);
            for (var round = 0; round < 12 && left.FeasibleSchedule is null; round++)
            {
                StartRestriction[] lifted = [.. left.BlockingSets.SelectMany(set => set).Where(hold => Liftable.Contains(hold.Rule))];
                if (lifted.Length == 0) break;
                var told = lifted.Select(hold => hold.ToBlockingRule(subject.Problem)).ToArray();
                foreach (var hold in told) week = Without(week, hold.Rule, hold.About.Zone);
                left = At(subject, week, start);
                Assert.DoesNotContain(left.BlockingSets.SelectMany(set => set),
                    hold => told.Any(one => one.Rule == hold.Rule && one.About.Zone == hold.ToBlockingRule(subject.Problem).About.Zone));
            }
            Assert.True(left.FeasibleSchedule is not null || left.BlockingSets.All(set => set.Any(hold => !Liftable.Contains(hold.Rule))));
        }
    });

    private static void EveryStint(Action<ExplanationSubject, IReadOnlyList<CandidateStart>> holds) => TinyWeekGenerator.Any.Sample(week =>
    {
        var (problem, plan) = (Problem.Of(week), Planner.Plan(week, Short));
        var schedule = PlanConverter.ScheduleOf(problem, plan);
        foreach (var work in schedule.Work.Where(work => work.Stint is not null))
        {
            var subject = new ExplanationSubject(problem, schedule, work);
            holds(subject, [.. new EarlierStartScan(subject).NearestFirst()]);
        }
    }, iter: 15, threads: 1);

    private static bool IsInNight(ExplanationSubject subject, CandidateStart start) => start.Minute >= subject.Problem.Nights[start.Night].Opens;

    private static CandidateStart At(ExplanationSubject subject, Week week, CandidateStart start)
    {
        var lifted = new ExplanationSubject(Problem.Of(week), subject.Schedule, subject.Work);
        return new EarlierStartScan(lifted).NearestFirst().Single(one => one.Night == start.Night && one.Minute == start.Minute);
    }

    private static Week Without(Week week, RuleId rule, string? zone)
    {
        return rule switch
        {
            RuleId.Kit => week with { Kits = [.. week.Kits.Select(kit => kit with { Eta = new LocalDateTime(2000, 1, 1, 0, 0) })] },
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
                with { Equipment = [.. week.Store.Equipment.Select(piece => piece with { Count = 99 })] } },
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

        // Longer than the night, whose hours are another rule's.
        static Availability All(Night night) => new(night.Id, night.Opens.PlusHours(-6), night.Closes.PlusHours(6));
        Week Tasks(Func<WeekTask, WeekTask> change) => week with { Tasks = [.. week.Tasks.Select(change)] };
        Week Rules(Func<RuleSet, RuleSet> change) => week with { Rules = change(week.Rules) };
    }
}
