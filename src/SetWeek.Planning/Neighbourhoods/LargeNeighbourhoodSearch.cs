using System.Runtime.ExceptionServices;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Model.Time;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Exact.Variables;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Neighbourhoods;

/// <summary>
/// Betters a plan part by part: small exact models around the best plan so far, the kind and size of the part chosen by what
/// has paid before.
/// </summary>
internal sealed class LargeNeighbourhoodSearch
{
    private const double MinAllowance = 0.05, MaxAllowance = 2;

    /// <summary>Building a model takes time too: units of effort that every try counts.</summary>
    private const double EffortPerTry = 0.05;

    private readonly Problem problem;
    private readonly Incumbent incumbent;
    private readonly Budget budget;
    private readonly Random random;
    private readonly NeighbourhoodOperator[] operators;

    private LargeNeighbourhoodSearch(Problem problem, Incumbent incumbent, Budget budget, int seed)
    {
        (this.problem, this.incumbent, this.budget) = (problem, incumbent, budget);
        random = new Random(seed);
        operators =
        [
            new("nights", 1, 1, problem.Nights.Count, FreeNights),
            new("hours", 120, 30, 600, FreeHours),
            new("roster", problem.Nights.Count, 1, problem.Nights.Count, FreeRoster),
            new("tasks", 8, 2, Math.Max(2, problem.Tasks.Count), FreeTasks),
            new("people", 3, 1, Math.Max(1, problem.Crew.Count), FreePeople),
            new("displays", 1, 1, Math.Max(1, problem.Displays.Count), FreeDisplays),
        ];
    }

    /// <summary>Betters the plan until the budget is spent or nothing is left to better. Needs a plan to begin with.</summary>
    /// <param name="problem">What is planned.</param>
    /// <param name="incumbent">Holds the plan; given every better one.</param>
    /// <param name="budget">What may be used of time or effort; its workers look at different parts at once.</param>
    /// <param name="allowance">Seconds, or units of effort, at most.</param>
    public static void Improve(Problem problem, Incumbent incumbent, Budget budget, double allowance = double.MaxValue)
    {
        var end = budget.Remaining - allowance;
        ExceptionDispatchInfo? fault = null;
        void Look(int worker)
        {
            try
            {
                new LargeNeighbourhoodSearch(problem, incumbent, budget, budget.Seed + worker).Run(end, () => fault is not null);
            }
            catch (Exception caught)
            {
                fault = ExceptionDispatchInfo.Capture(caught);
            }
        }
        var threads = Enumerable.Range(1, budget.Workers - 1).Select(worker => new Thread(() => Look(worker))).ToArray();
        foreach (var thread in threads) thread.Start();
        Look(0);
        foreach (var thread in threads) thread.Join();
        fault?.Throw();
    }

    private void Run(double end, Func<bool> cancelled)
    {
        while (!cancelled() && !budget.Spent && budget.Remaining > end && incumbent.Best is { } plan)
        {
            if (SelectGoal() is not { } goal) return;
            var kind = SelectOperator(goal);
            Reoptimise(kind, plan, goal, Math.Min(budget.Remaining - end, MaxAllowance));
        }
    }

    /// <summary>One part decided anew, for a plan that is better in the goal; how it went decides the size of the next.</summary>
    private void Reoptimise(NeighbourhoodOperator neighbourhood, Schedule schedule, int goal, double allowance)
    {
        var before = budget.Remaining;
        budget.Charge(EffortPerTry);
        var free = neighbourhood.Apply(schedule, (int)Math.Round(neighbourhood.Size));
        var model = new CpWeekModel(problem, free).With(AllRules.InOrder);
        var caps = incumbent.CapsFor(goal);
        var term = CpSearch.PostGoalsWithCaps(model, goal, caps)[goal];
        if (!term.IsExact)
        {
            neighbourhood.Reward(0, false, 0, goal);
            return;
        }
        model.AtMost(term.Sum, (incumbent.Values![goal] - 1) * term.Divisor);
        model.Cp.Minimize(term.Sum);
        model.Hint(schedule);
        var run = new CpRun(model, incumbent, budget);
        // The stronger relaxation is slower and now and then sees more.
        var ending = run
            .Run(Math.Max(MinAllowance, allowance), 1, $"max_presolve_iterations:1 linearization_level:{1 + random.Next(2)}");
        neighbourhood.Reward(run.Improved ? 1 : 0, ending != CpRunStatus.Stopped, Math.Max(1e-3, before - budget.Remaining), goal);
    }

    /// <summary>Mostly the first goal that is not at its bound, now and then one after it.</summary>
    private int? SelectGoal()
    {
        var (values, bounds) = (incumbent.Values!, incumbent.Bounds());
        int? chosen = null;
        for (var goal = 0; goal < values.Length; goal++)
        {
            if (values[goal] <= bounds[goal]) continue;
            chosen ??= goal;
            if (random.NextDouble() < 0.85) return goal;
        }
        return chosen;
    }

    private NeighbourhoodOperator SelectOperator(int goal)
    {
        var left = random.NextDouble() * operators.Sum(kind => kind.Weight(goal));
        foreach (var kind in operators)
            if ((left -= kind.Weight(goal)) < 0) return kind;
        return operators[0];
    }

    private FreeVariables FreeNights(Schedule schedule, int count)
    {
        var first = random.Next(problem.Nights.Count);
        // Half the time nights in a row, else any.
        var nights = new bool[problem.Nights.Count];
        if (random.Next(2) == 0)
            for (var next = 0; next < count; next++) nights[(first + next) % nights.Length] = true;
        else foreach (var night in RandomSubset(nights.Length, count)) nights[night] = true;
        return Neighbourhood.Nights(problem, schedule, nights);
    }

    private FreeVariables FreeHours(Schedule schedule, int minutes)
    {
        var night = problem.Nights[random.Next(problem.Nights.Count)];
        var from = night.Opens + random.Next(Math.Max(1, night.Span.Minutes - minutes));
        return Neighbourhood.Hours(problem, schedule, night.Index, new Span(from, from + minutes));
    }

    private FreeVariables FreeRoster(Schedule schedule, int count) => Neighbourhood.Roster(problem, schedule, RandomMarks(problem.Nights.Count, count));

    /// <summary>Tasks of one zone and night and those that hang on them, at least so many.</summary>
    private FreeVariables FreeTasks(Schedule schedule, int count)
    {
        var works = schedule.Work.Where(work => work.Stint is not null).ToArray();
        var around = works[random.Next(works.Length)];
        var near = works
            .OrderBy(work => (work.Night == around.Night ? 0 : 1) + (work.Zone == around.Zone ? 0 : 1) + random.NextDouble())
            .Select(work => problem.Stints[work.Stint!.Value].Task.Index).Distinct().Take(count).ToHashSet();
        return Neighbourhood.Tasks(problem, schedule, task => near.Contains(task.Index));
    }

    private FreeVariables FreePeople(Schedule schedule, int count) => Neighbourhood.People(problem, schedule, RandomMarks(problem.Crew.Count, count));

    private FreeVariables FreeDisplays(Schedule schedule, int count)
    {
        var marks = RandomMarks(problem.Displays.Count, count);
        foreach (var display in problem.Displays)
            if (display.Alternate is { } alternate) marks[alternate] |= marks[display.Index];
        return Neighbourhood.Displays(problem, schedule, marks);
    }

    private bool[] RandomMarks(int of, int count)
    {
        var marks = new bool[of];
        foreach (var index in RandomSubset(of, count)) marks[index] = true;
        return marks;
    }

    private IEnumerable<int> RandomSubset(int of, int count)
    {
        var all = Enumerable.Range(0, of).ToArray();
        random.Shuffle(all);
        return all.Take(count);
    }

    /// <summary>A kind of part, how large it is taken, and how it has paid by goal.</summary>
    private sealed class NeighbourhoodOperator(string name, double size, double minSize, double maxSize, Func<Schedule, int, FreeVariables> free)
    {
        private readonly Dictionary<int, double> rewards = [];

        public string Name => name;
        public double Size { get; private set; } = Math.Clamp(size, minSize, maxSize);
        public FreeVariables Apply(Schedule schedule, int count) => free(schedule, count);
        public double Weight(int goal) => 0.05 + rewards.GetValueOrDefault(goal, 1);

        /// <summary>What is solved to the end may be larger next time, what is not may be smaller.</summary>
        public void Reward(double improvement, bool solvedToEnd, double spent, int goal)
        {
            rewards[goal] = 0.8 * rewards.GetValueOrDefault(goal, 1) + 0.2 * Math.Min(5, improvement / Math.Max(0.1, spent));
            if (improvement == 0) Size = Math.Clamp(solvedToEnd ? Size * 1.15 + minSize * 0.1 : Size * 0.9 - minSize * 0.1, minSize, maxSize);
        }
    }
}
