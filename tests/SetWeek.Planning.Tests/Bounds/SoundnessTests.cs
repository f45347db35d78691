using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Bounds;
using SetWeek.Planning.Bounds.Benders;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Master;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Search;
using SetWeek.Planning.Tests.Exact;

namespace SetWeek.Planning.Tests.Bounds;

/// <summary>
/// Compares the bounds with the exact optimum on random weeks in which every rule binds in some week. No bound may exceed the
/// optimum, and no week with a plan may be proven infeasible.
/// </summary>
public sealed class SoundnessTests
{
    public static TheoryData<int> Batches => [.. Enumerable.Range(0, 5)];

    [Theory, MemberData(nameof(Batches))]
    public void No_bound_is_above_the_optimum(int batch) =>
        AssertSound([.. Enumerable.Range(batch * 30, 30).Select(seed =>
            (seed, Problem.Of(RandomWeeks.Make(seed, tiny: false))))]);

    /// <summary>A re-plan in the middle of a plan, with work done, running, blocked or reopened, and a late kit.</summary>
    [Theory, MemberData(nameof(Batches))]
    public void No_bound_of_a_replan_is_above_its_optimum(int batch) =>
        AssertSound([.. Enumerable.Range(batch * 30, 30).Select(seed => (seed, ReplanHalfWay(seed)))
            .Where(pair => pair.Item2 is not null)
            .Select(pair => (pair.seed, pair.Item2!))]);

    /// <summary>
    /// With clean-downs and a keyholder whose shift spans all work, so that the bounds on the end of a night apply.
    /// </summary>
    [Theory, MemberData(nameof(Batches))]
    public void No_bound_of_a_week_with_clean_downs_is_above_the_optimum(int batch) =>
        AssertSound([.. Enumerable.Range(batch * 30, 30).Select(seed => (seed, Problem.Of(WithCleanDowns(seed))))]);

    [Theory, MemberData(nameof(Batches))]
    public void No_bound_on_nights_is_above_the_optimum(int batch)
    {
        var raised = 0;
        for (var seed = batch * 30; seed < batch * 30 + 30; seed++)
        {
            var problem = Problem.Of(WithCleanDowns(seed) with { Goals = [new(GoalId.LeftOut), new(GoalId.Nights)] });
            if (CpOptimum.Best(problem, checkPlans: false) is not { } best || CpOptimum.Plan(problem) is not { } plan) continue;
            var incumbent = new Incumbent(problem);
            Assert.True(incumbent.Offer(plan));
            // The bound starts from zero nights, so that every number of nights is tested.
            new NightCountBound(problem, RootPropagation.Of(problem), incumbent, 1).Raise(incumbent.CapsFor(1),
                new Budget(new SearchLimits { Effort = 20, Workers = 1 }, CancellationToken.None), 20);
            Assert.True(incumbent.Bounds()[1] <= best[1], $"seed {seed}: {incumbent.Bounds()[1]} nights above {best[1]}");
            if (incumbent.Bounds()[1] == best[1]) raised++;
        }
        Assert.InRange(raised, 4, 30);
    }

    /// <summary>Bounds the number of changes by Benders cuts, with the goals before it capped at their optimum.</summary>
    [Theory, MemberData(nameof(Batches))]
    public void No_bound_on_changes_is_above_the_optimum(int batch)
    {
        var (possible, reached, positive) = (0, 0, 0);
        for (var seed = batch * 30; seed < batch * 30 + 30; seed++)
        {
            if (ReplanHalfWay(seed) is not { } problem || CpOptimum.Best(problem, checkPlans: false) is not { } best) continue;
            var incumbent = new Incumbent(problem);
            if (CpOptimum.Plan(problem) is not { } plan || !incumbent.Offer(plan)) continue;
            possible++;
            new ChangeCountBound(problem, RootPropagation.Of(problem), incumbent, 1).Raise(incumbent.CapsFor(1),
                new Budget(new SearchLimits { Effort = 5, Workers = 1 }, CancellationToken.None), 5);
            var bound = incumbent.Bounds()[1];
            Assert.True(bound <= best[1], $"seed {seed}: {bound} changes above {best[1]}");
            if (bound == best[1]) reached++;
            if (bound > 0) positive++;
        }
        Assert.InRange(possible, 4, 30);
        Assert.True(reached * 2 >= possible && positive > 0, $"{reached} of {possible} reached, {positive} above zero");
    }

    /// <summary>
    /// A person of the published plan is absent from one night. The bounds on changes and on shuffled stints, each with the goals
    /// before it capped at their optimum.
    /// </summary>
    [Fact]
    public void No_bound_on_changes_or_shuffled_stints_after_an_absence_is_above_the_optimum()
    {
        var (possible, reached, forced, positive) = (0, 0, 0, 0);
        for (var seed = 0; seed < 150; seed++)
        {
            if (ReplanWithAbsence(seed) is not { } problem || CpOptimum.Best(problem, checkPlans: false) is not { } best) continue;
            var incumbent = new Incumbent(problem);
            if (CpOptimum.Plan(problem) is not { } plan || !incumbent.Offer(plan)) continue;
            possible++;
            var budget = new Budget(new SearchLimits { Effort = 4, Workers = 1 }, CancellationToken.None);
            var bound = new ChangeCountBound(problem, RootPropagation.Of(problem), incumbent, 1);
            bound.Raise(incumbent.CapsFor(1), budget, 2);
            bound.BoundShuffled(2, incumbent.CapsFor(2), budget, 2);
            var (changes, shuffled) = (incumbent.Bounds()[1], incumbent.Bounds()[2]);
            Assert.True(changes <= best[1], $"seed {seed}: {changes} changes above {best[1]}");
            Assert.True(shuffled <= best[2], $"seed {seed}: {shuffled} shuffled above {best[2]}");
            if (changes == best[1]) reached++;
            if (best[2] > 0) forced++;
            if (shuffled > 0) positive++;
        }
        Assert.True(possible >= 20 && reached * 5 >= possible * 4, $"{reached} of {possible} reached");
        Assert.True(positive > 0, $"{positive} of {forced} with shuffled stints have a bound");
    }

    /// <summary>Cuts from the priced night subproblems never raise the cost bound above the optimal cost.</summary>
    [Theory, MemberData(nameof(Batches))]
    public void No_cost_bound_with_priced_night_cuts_is_above_the_optimum(int batch)
    {
        var possible = 0;
        for (var seed = batch * 30; seed < batch * 30 + 30; seed++)
        {
            var week = seed % 2 == 0 ? WithCleanDowns(seed) : RandomWeeks.Make(seed, tiny: false);
            var problem = Problem.Of(week with { Goals = [new(GoalId.LeftOut), new(GoalId.Cost)] });
            if (CpOptimum.Best(problem, checkPlans: false) is not { } best) continue;
            possible++;
            var known = RootPropagation.Of(problem);
            var without = NightMasterBound(problem, known, 1, best);
            var with = NightMasterBound(problem, known, 1, best, new PricedNightCuts(problem, known));
            Assert.True(with <= best[1], $"seed {seed}: {with} above {best[1]}");
            Assert.True(with >= without, $"seed {seed}: cuts lowered it, {with} instead of {without}");
        }
        Assert.InRange(possible, 4, 30);
    }

    /// <summary>
    /// For random weights on the columns of a night, the minimum over that night alone is at most the plan's value. For
    /// weights that favour exactly the stints of the plan in that night, the two are equal.
    /// </summary>
    [Theory, MemberData(nameof(Batches))]
    public void No_plan_is_below_the_minimum_of_a_pricing_subproblem(int batch)
    {
        var tested = 0;
        for (var seed = batch * 30; seed < batch * 30 + 30; seed++)
        {
            var problem = Problem.Of(seed % 2 == 0 ? WithCleanDowns(seed) : RandomWeeks.Make(seed, tiny: false));
            if (Plan(problem) is not { } plan) continue;
            var known = RootPropagation.Of(problem);
            var (master, random) = (new NightMaster(problem, known), new Random(seed));
            foreach (var night in problem.Nights)
            {
                var planned = PlannedColumns(problem, master, plan, night.Index);
                var subproblem = new PricingSubproblem(problem, known, night.Index);
                for (var draw = 0; draw < 3; draw++)
                {
                    long[] weights = [.. planned.Select(_ => (long)random.Next(-20, 21))];
                    Assert.True(MinimumOfNight(subproblem, master, weights, planned) <= Total(weights, planned),
                        $"seed {seed}, {night.Id}");
                }
                var stints = master.Work.ColumnsIn(night.Index).Select(column => column.IsDone.Terms[0].Column).ToHashSet();
                long[] favoured = [.. planned.Select((value, column) => !stints.Contains(column) ? 0 : value == 1 ? -10L : 10L)];
                Assert.Equal(Total(favoured, planned), MinimumOfNight(subproblem, master, favoured, planned));
                tested++;
            }
        }
        Assert.InRange(tested, 8, 60);
    }

    /// <summary>
    /// The minimum of the weighted sum in the subproblem. Weights of columns without a planned value become zero.
    /// </summary>
    private static long MinimumOfNight(PricingSubproblem subproblem, NightMaster master, long[] weights, long?[] planned)
    {
        for (var column = 0; column < weights.Length; column++) if (planned[column] is null) weights[column] = 0;
        var budget = new Budget(new SearchLimits { Effort = 20, Workers = 1 }, CancellationToken.None);
        return Assert.NotNull(subproblem.MinWeightedSum(master, weights, budget, 20));
    }

    private static long Total(long[] weights, long?[] planned) =>
        weights.Zip(planned, (weight, value) => weight * (value ?? 0)).Sum();

    /// <summary>
    /// The value of each column of the master for a plan in one night; null for columns that a plan does not determine.
    /// </summary>
    private static long?[] PlannedColumns(Problem problem, NightMaster master, Schedule plan, int night)
    {
        var planned = new long?[master.Model.Columns.Count];
        void Set(LinearExpression? sum, long value)
        {
            if (sum is { Terms.Count: > 0 }) planned[sum.Terms[0].Column] = value;
        }
        foreach (var stint in problem.Stints)
            for (var mode = 0; mode < stint.Task.Modes.Count; mode++)
                Set(master.Work.InModeAndNight(stint.Index, mode, night),
                    plan.Work.Any(work => work.Stint == stint.Index && work.Night == night && work.Mode == mode) ? 1 : 0);
        foreach (var zone in problem.Zones)
            Set(master.Work.CleanDownDue[zone.Index][night],
                plan.Work.Any(work => work.IsCleanDown && work.Zone == zone.Index && work.Night == night) ? 1 : 0);
        foreach (var person in problem.Crew)
        {
            var shift = plan.Shifts.FirstOrDefault(one => one.Person == person.Index && one.Night == night);
            Set(master.Roster.HasShift(person.Index, night), shift is null ? 0 : 1);
            Set(master.Roster.ShiftMinutes(person.Index, night),
                shift is null ? 0 : shift.Span.Minutes / problem.ShiftGridMinutes);
            Set(master.Roster.HasBreak(person.Index, night), shift?.Break is null ? 0 : 1);
        }
        return planned;
    }

    [Theory, MemberData(nameof(Batches))]
    public void No_bound_on_the_finish_is_above_the_optimum(int batch)
    {
        var raised = 0;
        for (var seed = batch * 30; seed < batch * 30 + 30; seed++)
        {
            var problem = Problem.Of(WithCleanDowns(seed) with { Goals =
                [new(seed % 2 == 0 ? GoalId.LeftOut : GoalId.Cost), new(GoalId.Finish)] });
            if (CpOptimum.Best(problem, checkPlans: false) is not { } best || CpOptimum.Plan(problem) is not { } plan) continue;
            var incumbent = new Incumbent(problem);
            Assert.True(incumbent.Offer(plan));
            new FinishTimeBound(problem, incumbent, 1).Raise(incumbent.CapsFor(1),
                new Budget(new SearchLimits { Effort = 20, Workers = 1 }, CancellationToken.None), 20);
            // Where the plan is not optimal in the goal before, the bound does not apply to the optimum.
            if (incumbent.Values![0] > best[0]) continue;
            Assert.True(incumbent.Bounds()[1] <= best[1], $"seed {seed}: finish {incumbent.Bounds()[1]} above {best[1]}");
            if (incumbent.Bounds()[1] > RootPropagation.Of(problem).Bound(GoalId.Finish)) raised++;
        }
        Assert.InRange(raised, 2, 30);
    }

    private static Week WithCleanDowns(int seed)
    {
        var week = RandomWeeks.Make(seed, tiny: false);
        return week with
        {
            Rules = week.Rules with { KeyholderPresent = true, MinShiftMinutes = 60, OpeningMinutes = null },
            Crew = [.. week.Crew.Select(member => member with { Keyholder = true })],
            Store = week.Store
                with { Zones = [.. week.Store.Zones
                    .Select((zone, index) => zone with { CleanDown = new(30 - 15 * (index % 2), [new("any", 1)]) })] },
        };
    }

    private static void AssertSound((int Seed, Problem Problem)[] weeks)
    {
        var (possible, tight) = (0, 0);
        foreach (var (seed, problem) in weeks)
        {
            // Only the optimum is needed here. ModelAndCheckTests compare the model with the checker.
            if (CpOptimum.Best(problem, checkPlans: false) is not { } best) continue;
            possible++;
            var known = RootPropagation.Of(problem);
            Assert.False(known.Infeasible, $"seed {seed}");
            for (var goal = 0; goal < best.Length; goal++)
            {
                var id = problem.Goals[goal].Goal;
                Assert.True(known.Bound(id) <= best[goal],
                    $"seed {seed}: certificate of {id} {known.Bound(id)} above {best[goal]}");
                var least = NightMasterBound(problem, known, goal, best);
                Assert.True(least <= best[goal], $"seed {seed}: master of {id} {least} above {best[goal]}");
                if (least == best[goal]) tight++;
            }
        }
        // Zero would be a sound bound too, so many bounds must equal the optimum on weeks this small.
        Assert.InRange(possible, 4, 30);
        Assert.InRange(tight, possible, 5 * possible);
    }

    private static Problem? ReplanHalfWay(int seed)
    {
        var week = RandomWeeks.Make(seed, tiny: false);
        var (before, random) = (Problem.Of(week), new Random(seed));
        if (Plan(before) is not { } plan || plan.Work.Count == 0) return null;
        var now = plan.Work.Min(work => work.From) + 15 * random.Next(1, 20);
        var progress = plan.Work.Where(work => work.From < now && (work.Stint is not null || random.Next(3) > 0))
            .Select(work => new ProgressReport
        {
            Task = work.Stint is { } stint ? before.Stints[stint].Task.Id : null,
            Stint = work.Stint is { } number ? before.Stints[number].Number : 1,
            Night = work.IsCleanDown ? before.Nights[work.Night].Id : null,
            CleanDown = work.IsCleanDown ? before.Zones[work.Zone].Id : null,
            State = work.To <= now ? WorkState.Done : WorkState.Running,
            From = before.Grid.TimeOf(work.From),
            To = work.To <= now ? before.Grid.TimeOf(work.To) : null,
        }).ToArray();
        if (progress.Length > 0 && progress[^1].Task is not null && random.Next(3) == 0)
            progress[^1] = progress[^1] with { State = random.Next(2) == 0 ? WorkState.Reopened
                : WorkState.Blocked, To = null, Until = before.Grid.TimeOf(now + 30) };
        var published = new Plan { Week = week.Id, Status = PlanStatus.Feasible, Nights = PlanConverter.NightsOf(before, plan) };
        var late = week with
        {
            Kits = [.. week.Kits.Select(kit => kit with { Eta = before.Grid.TimeOf(now + 30).LocalDateTime })],
            ReplanGoals = [new(GoalId.LeftOut), new(GoalId.Changes), .. week.Goals.Where(goal => goal.Goal != GoalId.LeftOut)],
        };
        return Problem.Of(late, new Replan(published, before.Grid.TimeOf(now).LocalDateTime, progress));
    }

    /// <summary>Re-planned before the first night, with somebody absent from the night of the first published shift.</summary>
    private static Problem? ReplanWithAbsence(int seed)
    {
        var week = RandomWeeks.Make(seed, tiny: false);
        var before = Problem.Of(week);
        if (Plan(before) is not { Shifts.Count: > 0 } plan) return null;
        var absent = plan.Shifts[0];
        var published = new Plan { Week = week.Id, Status = PlanStatus.Feasible, Nights = PlanConverter.NightsOf(before, plan) };
        var changed = week with
        {
            Crew = [.. week.Crew.Select((member, index) => index != absent.Person ? member : member with
            {
                Available = [.. member.Available.Where(entry => entry.Night != week.Nights[absent.Night].Id)],
            })],
            ReplanGoals = [new(GoalId.LeftOut), new(GoalId.Changes), new(GoalId.Shuffled)],
        };
        return Problem.Of(changed, new Replan(published, week.Nights[0].Opens.PlusHours(-10), []));
    }

    private static Schedule? Plan(Problem problem)
    {
        var incumbent = new Incumbent(problem);
        CpSearch.Solve(problem, incumbent, new Budget(new SearchLimits { Effort = 5, Workers = 1 }, CancellationToken.None));
        return incumbent.Best;
    }

    /// <summary>
    /// The lower bound of the night master for a goal, with the goals before it capped at their optimum and tolerance.
    /// </summary>
    private static long NightMasterBound(Problem problem, RootPropagation known, int goal, long[] best,
        PricedNightCuts? prices = null)
    {
        var master = new NightMaster(problem, known);
        for (var above = 0; above < goal; above++)
            master.Cap(problem.Goals[above].Goal, best[above] + best[above] * problem.Goals[above].TolerancePercent / 100);
        var (sum, divisor) = master.Goal(problem.Goals[goal].Goal);
        prices?.Tighten(master, sum, new Budget(new SearchLimits { Effort = 5, Workers = 1 }, CancellationToken.None));
        var lowerBound = 0L;
        var budget = new Budget(new SearchLimits { Effort = 20, Workers = 1 }, CancellationToken.None);
        var ending = new IntegerModelSolver(master.Model, budget, boundOnly: true)
            .Minimise(sum, 20, bound => lowerBound = Math.Max(lowerBound, (bound + divisor - 1) / divisor), () => false);
        Assert.NotEqual(SolverStatus.Infeasible, ending);
        return lowerBound;
    }
}
