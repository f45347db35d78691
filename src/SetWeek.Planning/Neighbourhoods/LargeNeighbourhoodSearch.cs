using SetWeek.Model.Durations;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Model.Time;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Exact.Variables;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Neighbourhoods;

/// <summary>
/// Large neighbourhood search (Shaw, 1998): frees a part of the best plan, fixes the rest, and solves the part with the exact
/// model. The kind of part is drawn by its past success and its size adapts, as in adaptive large neighbourhood search (Ropke
/// and Pisinger, 2006).
/// </summary>
internal sealed class LargeNeighbourhoodSearch
{
    // Parameters of the search. Times are in seconds or units of effort.

    /// <summary>Least and greatest time limit of one solve.</summary>
    private const double MinAllowance = 0.05, MaxAllowance = 2;

    /// <summary>Effort charged for each try besides the solve: building the model takes time too.</summary>
    private const double EffortPerTry = 0.05;

    /// <summary>
    /// Initial size of a neighbourhood of hours, and its limits, in minutes. The sizes of the other kinds count nights, tasks,
    /// people or displays.
    /// </summary>
    private const double InitialMinutes = 120, MinMinutes = 30, MaxMinutes = 600;

    /// <summary>Initial number of free tasks, and its lower limit.</summary>
    private const double InitialTasks = 8, MinTasks = 2;

    /// <summary>Initial number of people whose shifts are free.</summary>
    private const double InitialPeople = 3;

    /// <summary>
    /// Probability of choosing a goal that is not at its bound, tried goal by goal in their order. So the first such goal is
    /// chosen most often.
    /// </summary>
    private const double GoalProbability = 0.85;

    /// <summary>
    /// Number of linear relaxations to draw from: linearization_level 1 and 2. Level 2 is slower and sometimes proves more.
    /// </summary>
    private const int LinearizationLevels = 2;

    /// <summary>One neighbourhood of nights in so many frees consecutive nights. The others free random nights.</summary>
    private const int ConsecutiveNightsOneIn = 2;

    /// <summary>Weight of a kind of neighbourhood before it was tried, for each goal.</summary>
    private const double InitialReward = 1;

    /// <summary>Weight added to each kind, so that none is dropped for good.</summary>
    private const double BaseWeight = 0.05;

    /// <summary>Weight of the latest try in the moving average of rewards.</summary>
    private const double RewardSmoothing = 0.2;

    /// <summary>A reward is 1 divided by the time of the improving try. Cap of a reward, and least time to divide by.</summary>
    private const double MaxReward = 5, MinSecondsOfReward = 0.1;

    /// <summary>Least time that is passed on as spent by a try.</summary>
    private const double MinSecondsOfTry = 1e-3;

    /// <summary>
    /// Growth of the size after a part without improvement was solved to its end, and its decrease after the time ran out.
    /// </summary>
    private const double GrowthFactor = 1.15, ShrinkFactor = 0.9;

    /// <summary>The same as a share of the smallest size, added or subtracted, so that small sizes move as well.</summary>
    private const double SizeStep = 0.1;

    private readonly Problem problem;
    private readonly Incumbent incumbent;
    private readonly Budget budget;
    private readonly SplitMix64 random;
    private readonly NeighbourhoodOperator[] operators;

    private LargeNeighbourhoodSearch(Problem problem, Incumbent incumbent, Budget budget, int seed)
    {
        (this.problem, this.incumbent, this.budget) = (problem, incumbent, budget);
        random = new SplitMix64(seed);
        operators =
        [
            new(1, 1, problem.Nights.Count, FreeNights),
            new(InitialMinutes, MinMinutes, MaxMinutes, FreeHours),
            new(problem.Nights.Count, 1, problem.Nights.Count, FreeRoster),
            new(InitialTasks, MinTasks, Math.Max(MinTasks, problem.Tasks.Count), FreeTasks),
            new(InitialPeople, 1, Math.Max(1, problem.Crew.Count), FreePeople),
            new(1, 1, Math.Max(1, problem.Displays.Count), FreeDisplays),
        ];
    }

    /// <summary>
    /// Improves the plan until the allowance is spent or every goal is at its bound. Returns at once where there is no plan.
    /// </summary>
    /// <param name="problem">The problem of the plan.</param>
    /// <param name="incumbent">Holds the plan; receives every better one.</param>
    /// <param name="budget">Budget to charge. Each of its workers searches in a thread of its own, with its own seed.</param>
    /// <param name="allowance">Seconds or units of effort at most.</param>
    public static void Improve(Problem problem, Incumbent incumbent, Budget budget, double allowance = double.MaxValue)
    {
        var end = budget.Remaining - allowance;
        var fault = new ThreadFault();
        void RunWorker(int worker) => fault.Guard(() =>
            new LargeNeighbourhoodSearch(problem, incumbent, budget, budget.Seed + worker).Run(end, () => fault.Occurred));
        var threads = Enumerable.Range(1, budget.Workers - 1).Select(worker => new Thread(() => RunWorker(worker))).ToArray();
        foreach (var thread in threads) thread.Start();
        RunWorker(0);
        foreach (var thread in threads) thread.Join();
        fault.Rethrow();
    }

    private void Run(double end, Func<bool> cancelled)
    {
        while (!cancelled() && !budget.Spent && budget.Remaining > end && incumbent.Best is { } plan)
        {
            if (SelectGoal() is not { } goal) return;
            Reoptimise(SelectOperator(goal), plan, goal, Math.Min(budget.Remaining - end, MaxAllowance));
        }
    }

    /// <summary>
    /// Solves one neighbourhood for a plan with a smaller value of the goal. The outcome adapts the neighbourhood's weight and
    /// size.
    /// </summary>
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
        var ending = run.Run(Math.Max(MinAllowance, allowance), 1,
            $"max_presolve_iterations:1 linearization_level:{1 + random.NextBelow(LinearizationLevels)}");
        neighbourhood.Reward(run.Improved ? 1 : 0, solvedToEnd: ending != SolverStatus.Stopped,
            Math.Max(MinSecondsOfTry, before - budget.Remaining), goal);
    }

    /// <summary>Mostly the first goal that is not at its bound, sometimes a later one; null where all are at bound.</summary>
    private int? SelectGoal()
    {
        var (values, bounds) = (incumbent.Values!, incumbent.Bounds());
        int? chosen = null;
        for (var goal = 0; goal < values.Length; goal++)
        {
            if (values[goal] <= bounds[goal]) continue;
            chosen ??= goal;
            if (random.NextDouble() < GoalProbability) return goal;
        }
        return chosen;
    }

    /// <summary>Roulette wheel selection by the weights for this goal.</summary>
    private NeighbourhoodOperator SelectOperator(int goal)
    {
        var remaining = random.NextDouble() * operators.Sum(candidate => candidate.Weight(goal));
        foreach (var candidate in operators)
            if ((remaining -= candidate.Weight(goal)) < 0) return candidate;
        return operators[0];
    }

    private FreeVariables FreeNights(Schedule schedule, int count)
    {
        var first = random.NextBelow(problem.Nights.Count);
        var nights = new bool[problem.Nights.Count];
        if (random.NextBelow(ConsecutiveNightsOneIn) == 0)
            for (var offset = 0; offset < count; offset++) nights[(first + offset) % nights.Length] = true;
        else foreach (var night in RandomSubset(nights.Length, count)) nights[night] = true;
        return Neighbourhood.Nights(problem, schedule, nights);
    }

    private FreeVariables FreeHours(Schedule schedule, int minutes)
    {
        var night = problem.Nights[random.NextBelow(problem.Nights.Count)];
        var from = night.Opens + random.NextBelow(Math.Max(1, night.Span.Minutes - minutes));
        return Neighbourhood.Hours(problem, schedule, night.Index, new Span(from, from + minutes));
    }

    private FreeVariables FreeRoster(Schedule schedule, int count) =>
        Neighbourhood.Roster(problem, schedule, RandomMarks(problem.Nights.Count, count));

    /// <summary>The tasks closest to a random stint: those in its zone and night first, with some noise.</summary>
    private FreeVariables FreeTasks(Schedule schedule, int count)
    {
        var stints = schedule.Work.Where(work => work.Stint is not null).ToArray();
        var center = stints[random.NextBelow(stints.Length)];
        var closest = stints
            .OrderBy(work => (work.Night == center.Night ? 0 : 1) + (work.Zone == center.Zone ? 0 : 1) + random.NextDouble())
            .Select(work => problem.Stints[work.Stint!.Value].Task.Index).Distinct().Take(count).ToHashSet();
        return Neighbourhood.Tasks(problem, schedule, task => closest.Contains(task.Index));
    }

    private FreeVariables FreePeople(Schedule schedule, int count) =>
        Neighbourhood.People(problem, schedule, RandomMarks(problem.Crew.Count, count));

    /// <summary>Random displays, each with its alternate.</summary>
    private FreeVariables FreeDisplays(Schedule schedule, int count)
    {
        var marks = RandomMarks(problem.Displays.Count, count);
        foreach (var display in problem.Displays)
            if (display.Alternate is { } alternate) marks[alternate] |= marks[display.Index];
        return Neighbourhood.Displays(problem, schedule, marks);
    }

    private bool[] RandomMarks(int length, int count)
    {
        var marks = new bool[length];
        foreach (var index in RandomSubset(length, count)) marks[index] = true;
        return marks;
    }

    private IEnumerable<int> RandomSubset(int length, int count)
    {
        var all = Enumerable.Range(0, length).ToArray();
        random.Shuffle(all);
        return all.Take(count);
    }

    /// <summary>A kind of neighbourhood, its present size, and its moving average of rewards by goal.</summary>
    private sealed class NeighbourhoodOperator(
        double size, double minSize, double maxSize, Func<Schedule, int, FreeVariables> free)
    {
        private readonly Dictionary<int, double> rewards = [];

        public double Size { get; private set; } = Math.Clamp(size, minSize, maxSize);
        public FreeVariables Apply(Schedule schedule, int count) => free(schedule, count);
        public double Weight(int goal) => BaseWeight + rewards.GetValueOrDefault(goal, InitialReward);

        /// <summary>
        /// Adds a try to the average. Without an improvement the size grows where the part was solved to its end, and shrinks
        /// where it was not.
        /// </summary>
        public void Reward(double improvement, bool solvedToEnd, double spent, int goal)
        {
            var reward = Math.Min(MaxReward, improvement / Math.Max(MinSecondsOfReward, spent));
            rewards[goal] =
                (1 - RewardSmoothing) * rewards.GetValueOrDefault(goal, InitialReward) + RewardSmoothing * reward;
            if (improvement > 0) return;
            Size = Math.Clamp(solvedToEnd ? Size * GrowthFactor + minSize * SizeStep : Size * ShrinkFactor - minSize * SizeStep,
                minSize, maxSize);
        }
    }
}
