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
/// Against the exact model on weeks in which every rule binds now and then: no bound is above the optimum, no week that has a
/// plan is called impossible.
/// </summary>
public sealed class SoundnessTests
{
    public static TheoryData<int> Batches => [.. Enumerable.Range(0, 5)];

    [Theory, MemberData(nameof(Batches))]
    public void No_bound_is_above_the_optimum(int batch) =>
        Compare([.. Enumerable.Range(batch * 30, 30).Select(seed => (seed, Problem.Of(RandomWeeks.Make(seed, tiny: false))))]);

    /// <summary>Half-way through a plan, some of it done, some running, blocked or to be done again, and the kit late.</summary>
    [Theory, MemberData(nameof(Batches))]
    public void No_bound_of_a_re_plan_is_above_its_optimum(int batch) =>
        Compare([.. Enumerable.Range(batch * 30, 30).Select(seed => (seed, HalfWay(seed))).Where(pair => pair.Item2 is not null)
            .Select(pair => (pair.seed, pair.Item2!))]);

    /// <summary>
    /// Zones that somebody cleans down and a keyholder whose shift holds all work: nights whose ends are looked at.
    /// </summary>
    [Theory, MemberData(nameof(Batches))]
    public void No_bound_of_nights_that_end_with_clean_downs_is_above_the_optimum(int batch) =>
        Compare([.. Enumerable.Range(batch * 30, 30).Select(seed => (seed, Problem.Of(CleanedDown(seed))))]);

    [Theory, MemberData(nameof(Batches))]
    public void No_fewer_nights_are_called_impossible_than_are(int batch)
    {
        var raised = 0;
        for (var seed = batch * 30; seed < batch * 30 + 30; seed++)
        {
            var problem = Problem.Of(CleanedDown(seed) with { Goals = [new(GoalId.LeftOut), new(GoalId.Nights)] });
            if (CpOptimum.Best(problem, checkPlans: false) is not { } best || CpOptimum.Plan(problem) is not { } plan) continue;
            var incumbent = new Incumbent(problem);
            Assert.True(incumbent.Offer(plan));
            // From no nights at all, so that everything is asked.
            new NightCountBound(problem, RootPropagation.Of(problem), incumbent, 1).Raise(incumbent.CapsFor(1),
                new Budget(new SearchLimits { Effort = 20, Workers = 1 }, CancellationToken.None), 20);
            Assert.True(incumbent.Bounds()[1] <= best[1], $"seed {seed}: {incumbent.Bounds()[1]} nights above {best[1]}");
            if (incumbent.Bounds()[1] == best[1]) raised++;
        }
        Assert.InRange(raised, 4, 30);
    }

    /// <summary>The goals above changes held to their best, the least change is asked night by night to the end.</summary>
    [Theory, MemberData(nameof(Batches))]
    public void No_least_change_is_above_the_least(int batch)
    {
        var (possible, reached, some) = (0, 0, 0);
        for (var seed = batch * 30; seed < batch * 30 + 30; seed++)
        {
            if (HalfWay(seed) is not { } problem || CpOptimum.Best(problem, checkPlans: false) is not { } best) continue;
            var incumbent = new Incumbent(problem);
            if (CpOptimum.Plan(problem) is not { } plan || !incumbent.Offer(plan)) continue;
            possible++;
            new ChangeCountBound(problem, RootPropagation.Of(problem), incumbent, 1).Raise(incumbent.CapsFor(1),
                new Budget(new SearchLimits { Effort = 5, Workers = 1 }, CancellationToken.None), 5);
            var bound = incumbent.Bounds()[1];
            Assert.True(bound <= best[1], $"seed {seed}: {bound} changes above {best[1]}");
            if (bound == best[1]) reached++;
            if (bound > 0) some++;
        }
        Assert.InRange(possible, 4, 30);
        Assert.True(reached * 2 >= possible && some > 0, $"{reached} of {possible} reached, {some} above nothing");
    }

    /// <summary>Rows from nights solved by themselves, for what a week costs: still no more than it costs.</summary>
    [Theory, MemberData(nameof(Batches))]
    public void No_cost_bound_with_rows_of_nights_alone_is_above_the_optimum(int batch)
    {
        var possible = 0;
        for (var seed = batch * 30; seed < batch * 30 + 30; seed++)
        {
            var week = seed % 2 == 0 ? CleanedDown(seed) : RandomWeeks.Make(seed, tiny: false);
            var problem = Problem.Of(week with { Goals = [new(GoalId.LeftOut), new(GoalId.Cost)] });
            if (CpOptimum.Best(problem, checkPlans: false) is not { } best) continue;
            possible++;
            var known = RootPropagation.Of(problem);
            var without = Least(problem, known, 1, best);
            var with = Least(problem, known, 1, best, new PricedNightCuts(problem, known));
            Assert.True(with <= best[1], $"seed {seed}: {with} above {best[1]}");
            Assert.True(with >= without, $"seed {seed}: rows made it less, {with} instead of {without}");
        }
        Assert.InRange(possible, 4, 30);
    }

    /// <summary>
    /// Whatever weights are put on what is done in a night, no plan comes to less than the night alone; and where they ask for
    /// just the stints that the plan has there, to no more either.
    /// </summary>
    [Theory, MemberData(nameof(Batches))]
    public void What_a_plan_does_in_a_night_is_no_less_than_the_least_of_that_night_alone(int batch)
    {
        var asked = 0;
        for (var seed = batch * 30; seed < batch * 30 + 30; seed++)
        {
            var problem = Problem.Of(seed % 2 == 0 ? CleanedDown(seed) : RandomWeeks.Make(seed, tiny: false));
            if (Plan(problem) is not { } plan) continue;
            var known = RootPropagation.Of(problem);
            var (master, chance) = (new NightMaster(problem, known), new Random(seed));
            foreach (var night in problem.Nights)
            {
                var there = PlannedColumns(problem, master, plan, night.Index);
                var alone = new PricingSubproblem(problem, known, night.Index);
                for (var weighing = 0; weighing < 3; weighing++)
                {
                    long[] any = [.. there.Select(_ => (long)chance.Next(-20, 21))];
                    Assert.True(LeastOf(alone, master, any, there) <= Total(any, there), $"seed {seed}, {night.Id}");
                }
                var stints = master.Work.ColumnsIn(night.Index).Select(column => column.IsDone.Terms[0].Column).ToHashSet();
                long[] these = [.. there.Select((value, column) => !stints.Contains(column) ? 0 : value == 1 ? -10L : 10L)];
                Assert.Equal(Total(these, there), LeastOf(alone, master, these, there));
                asked++;
            }
        }
        Assert.InRange(asked, 8, 60);
    }

    /// <summary>Weights of columns that the plan does not show are set to nothing.</summary>
    private static long LeastOf(PricingSubproblem alone, NightMaster master, long[] weights, long?[] there)
    {
        for (var column = 0; column < weights.Length; column++) if (there[column] is null) weights[column] = 0;
        var budget = new Budget(new SearchLimits { Effort = 20, Workers = 1 }, CancellationToken.None);
        return Assert.NotNull(alone.MinWeightedSum(master, weights, budget, 20));
    }

    private static long Total(long[] weights, long?[] there) =>
        weights.Zip(there, (weight, value) => weight * (value ?? 0)).Sum();

    /// <summary>By column of the master, what a plan has in a night; null for columns that are no part of a plan.</summary>
    private static long?[] PlannedColumns(Problem problem, NightMaster master, Schedule plan, int night)
    {
        var there = new long?[master.Model.Columns.Count];
        void Is(LinearExpression? sum, long value)
        {
            if (sum is { Terms.Count: > 0 }) there[sum.Terms[0].Column] = value;
        }
        foreach (var stint in problem.Stints)
            for (var mode = 0; mode < stint.Task.Modes.Count; mode++)
                Is(master.Work.InModeAndNight(stint.Index, mode, night),
                    plan.Work.Any(work => work.Stint == stint.Index && work.Night == night && work.Mode == mode) ? 1 : 0);
        foreach (var zone in problem.Zones)
            Is(master.Work.CleanDownDue[zone.Index][night],
                plan.Work.Any(work => work.IsCleanDown && work.Zone == zone.Index && work.Night == night) ? 1 : 0);
        foreach (var person in problem.Crew)
        {
            var shift = plan.Shifts.FirstOrDefault(one => one.Person == person.Index && one.Night == night);
            Is(master.Roster.HasShift(person.Index, night), shift is null ? 0 : 1);
            Is(master.Roster.ShiftMinutes(person.Index, night), shift is null ? 0 : shift.Span.Minutes / problem.ShiftGridMinutes);
            Is(master.Roster.HasBreak(person.Index, night), shift?.Break is null ? 0 : 1);
        }
        return there;
    }

    [Theory, MemberData(nameof(Batches))]
    public void No_finish_is_called_too_soon_that_is_not(int batch)
    {
        var raised = 0;
        for (var seed = batch * 30; seed < batch * 30 + 30; seed++)
        {
            var problem = Problem.Of(CleanedDown(seed) with { Goals = [new(seed % 2 == 0 ? GoalId.LeftOut : GoalId.Cost), new(GoalId.Finish)] });
            if (CpOptimum.Best(problem, checkPlans: false) is not { } best || CpOptimum.Plan(problem) is not { } plan) continue;
            var incumbent = new Incumbent(problem);
            Assert.True(incumbent.Offer(plan));
            new FinishTimeBound(problem, incumbent, 1).Raise(incumbent.CapsFor(1),
                new Budget(new SearchLimits { Effort = 20, Workers = 1 }, CancellationToken.None), 20);
            // Of a plan that is not the best in the goal above, the bound says nothing about the best.
            if (incumbent.Values![0] > best[0]) continue;
            Assert.True(incumbent.Bounds()[1] <= best[1], $"seed {seed}: finish {incumbent.Bounds()[1]} above {best[1]}");
            if (incumbent.Bounds()[1] > RootPropagation.Of(problem).Bound(GoalId.Finish)) raised++;
        }
        Assert.InRange(raised, 2, 30);
    }

    private static Week CleanedDown(int seed)
    {
        var week = RandomWeeks.Make(seed, tiny: false);
        return week with
        {
            Rules = week.Rules with { KeyholderPresent = true, MinShiftMinutes = 60, OpeningMinutes = null },
            Crew = [.. week.Crew.Select(member => member with { Keyholder = true })],
            Store = week.Store
                with { Zones = [.. week.Store.Zones
                    .Select((zone, at) => zone with { CleanDown = new(30 - 15 * (at % 2), [new("any", 1)]) })] },
        };
    }

    private static void Compare((int Seed, Problem Problem)[] weeks)
    {
        var (possible, tight) = (0, 0);
        foreach (var (seed, problem) in weeks)
        {
            // Whether check and model agree is the model's own test; here its optimum is wanted and no more.
            if (CpOptimum.Best(problem, checkPlans: false) is not { } best) continue;
            possible++;
            var known = RootPropagation.Of(problem);
            Assert.False(known.Infeasible, $"seed {seed}");
            for (var goal = 0; goal < best.Length; goal++)
            {
                var id = problem.Goals[goal].Goal;
                Assert.True(known.Bound(id) <= best[goal],
                    $"seed {seed}: certificate of {id} {known.Bound(id)} above {best[goal]}");
                var least = Least(problem, known, goal, best);
                Assert.True(least <= best[goal], $"seed {seed}: master of {id} {least} above {best[goal]}");
                if (least == best[goal]) tight++;
            }
        }
        // A bound of nothing would be sound as well: many are the optimum itself on weeks this small.
        Assert.InRange(possible, 4, 30);
        Assert.InRange(tight, possible, 5 * possible);
    }

    private static Problem? HalfWay(int seed)
    {
        var week = RandomWeeks.Make(seed, tiny: false);
        var (before, chance) = (Problem.Of(week), new Random(seed));
        if (Plan(before) is not { } plan || plan.Work.Count == 0) return null;
        var now = plan.Work.Min(work => work.From) + 15 * chance.Next(1, 20);
        var progress = plan.Work.Where(work => work.From < now && (work.Stint is not null || chance.Next(3) > 0))
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
        if (progress.Length > 0 && progress[^1].Task is not null && chance.Next(3) == 0)
            progress[^1] = progress[^1] with { State = chance.Next(2) == 0 ? WorkState.Reopened
                : WorkState.Blocked, To = null, Until = before.Grid.TimeOf(now + 30) };
        var published = new Plan { Week = week.Id, Status = PlanStatus.Feasible, Nights = PlanConverter.NightsOf(before, plan) };
        var late = week with
        {
            Kits = [.. week.Kits.Select(kit => kit with { Eta = before.Grid.TimeOf(now + 30).LocalDateTime })],
            ReplanGoals = [new(GoalId.LeftOut), new(GoalId.Changes), .. week.Goals.Where(goal => goal.Goal != GoalId.LeftOut)],
        };
        return Problem.Of(late, new Replan(published, before.Grid.TimeOf(now).LocalDateTime, progress));
    }

    private static Schedule? Plan(Problem problem)
    {
        var incumbent = new Incumbent(problem);
        CpSearch.Solve(problem, incumbent, new Budget(new SearchLimits { Effort = 5, Workers = 1 }, CancellationToken.None));
        return incumbent.Best;
    }

    /// <summary>The night master's least, the goals above held to their best and tolerance.</summary>
    private static long Least(Problem problem, RootPropagation known, int goal, long[] best, PricedNightCuts? prices = null)
    {
        var master = new NightMaster(problem, known);
        for (var above = 0; above < goal; above++)
            master.Cap(problem.Goals[above].Goal, best[above] + best[above] * problem.Goals[above].TolerancePercent / 100);
        var (sum, divisor) = master.Goal(problem.Goals[goal].Goal);
        prices?.Tighten(master, sum, new Budget(new SearchLimits { Effort = 5, Workers = 1 }, CancellationToken.None));
        var least = 0L;
        var budget = new Budget(new SearchLimits { Effort = 20, Workers = 1 }, CancellationToken.None);
        var ending = new IntegerModelSolver(master.Model, budget, boundOnly: true)
            .Minimise(sum, 20, bound => least = Math.Max(least, (bound + divisor - 1) / divisor), () => false);
        Assert.NotEqual(IntegerModelSolver.IntegerModelStatus.Infeasible, ending);
        return least;
    }
}
