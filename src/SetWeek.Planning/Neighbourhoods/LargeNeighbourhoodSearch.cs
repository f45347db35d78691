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
    private const double LeastSlice = 0.05, MostSlice = 2;

    /// <summary>Building a model takes time too: units of effort that every try counts.</summary>
    private const double ATry = 0.05;

    private readonly Problem problem;
    private readonly Incumbent incumbent;
    private readonly Budget budget;
    private readonly Random chance;
    private readonly Kind[] kinds;

    private LargeNeighbourhoodSearch(Problem problem, Incumbent incumbent, Budget budget, int seed)
    {
        (this.problem, this.incumbent, this.budget) = (problem, incumbent, budget);
        chance = new Random(seed);
        kinds =
        [
            new("nights", 1, 1, problem.Nights.Count, NightsNear),
            new("hours", 120, 30, 600, HoursOf),
            new("roster", problem.Nights.Count, 1, problem.Nights.Count, RosterOf),
            new("tasks", 8, 2, Math.Max(2, problem.Activities.Count), TasksNear),
            new("people", 3, 1, Math.Max(1, problem.Crew.Count), PeopleNear),
            new("displays", 1, 1, Math.Max(1, problem.Displays.Count), DisplaysNear),
        ];
    }

    /// <summary>Betters the plan until the budget is spent or nothing is left to better. Needs a plan to begin with.</summary>
    /// <param name="problem">What is planned.</param>
    /// <param name="incumbent">Holds the plan; given every better one.</param>
    /// <param name="budget">What may be used of time or effort; its workers look at different parts at once.</param>
    /// <param name="most">Seconds, or units of effort, at most.</param>
    public static void Improve(Problem problem, Incumbent incumbent, Budget budget, double most = double.MaxValue)
    {
        var end = budget.Left - most;
        ExceptionDispatchInfo? fault = null;
        void Look(int worker)
        {
            try
            {
                new LargeNeighbourhoodSearch(problem, incumbent, budget, budget.Seed + worker).Look(end, () => fault is not null);
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

    private void Look(double end, Func<bool> giveUp)
    {
        while (!giveUp() && !budget.Spent && budget.Left > end && incumbent.Best is { } plan)
        {
            if (GoalToBetter() is not { } goal) return;
            var kind = Choose(goal);
            Try(kind, plan, goal, Math.Min(budget.Left - end, MostSlice));
        }
    }

    /// <summary>One part decided anew, for a plan that is better in the goal; how it went decides the size of the next.</summary>
    private void Try(Kind kind, Schedule plan, int goal, double most)
    {
        var before = budget.Left;
        budget.Use(ATry);
        var freedom = kind.Free(plan, (int)Math.Round(kind.Size));
        var model = new ExactModel(problem, freedom).With(AllRules.InOrder);
        var caps = incumbent.CapsFor(goal);
        var term = ExactSearch.Capped(model, goal, caps)[goal];
        if (!term.Exact)
        {
            kind.Tell(0, false, 0, goal);
            return;
        }
        model.AtMost(term.Sum, (incumbent.Values![goal] - 1) * term.Per);
        model.Cp.Minimize(term.Sum);
        model.Hint(plan);
        var run = new ExactRun(model, incumbent, budget);
        // The stronger relaxation is slower and now and then sees more.
        var ending = run
            .Run(Math.Max(LeastSlice, most), 1, $"max_presolve_iterations:1 linearization_level:{1 + chance.Next(2)}");
        kind.Tell(run.Improved ? 1 : 0, ending != RunEnding.Stopped, Math.Max(1e-3, before - budget.Left), goal);
    }

    /// <summary>Mostly the first goal that is not at its bound, now and then one after it.</summary>
    private int? GoalToBetter()
    {
        var (values, bounds) = (incumbent.Values!, incumbent.Bounds());
        int? chosen = null;
        for (var goal = 0; goal < values.Length; goal++)
        {
            if (values[goal] <= bounds[goal]) continue;
            chosen ??= goal;
            if (chance.NextDouble() < 0.85) return goal;
        }
        return chosen;
    }

    private Kind Choose(int goal)
    {
        var left = chance.NextDouble() * kinds.Sum(kind => kind.Weight(goal));
        foreach (var kind in kinds)
            if ((left -= kind.Weight(goal)) < 0) return kind;
        return kinds[0];
    }

    private Freedom NightsNear(Schedule plan, int count)
    {
        var first = chance.Next(problem.Nights.Count);
        // Half the time nights in a row, else any.
        var nights = new bool[problem.Nights.Count];
        if (chance.Next(2) == 0)
            for (var next = 0; next < count; next++) nights[(first + next) % nights.Length] = true;
        else foreach (var night in Some(nights.Length, count)) nights[night] = true;
        return Neighbourhood.Nights(problem, plan, nights);
    }

    private Freedom HoursOf(Schedule plan, int minutes)
    {
        var night = problem.Nights[chance.Next(problem.Nights.Count)];
        var from = night.Opens + chance.Next(Math.Max(1, night.Span.Minutes - minutes));
        return Neighbourhood.Hours(problem, plan, night.Index, new Span(from, from + minutes));
    }

    private Freedom RosterOf(Schedule plan, int count) => Neighbourhood.Roster(problem, plan, Marks(problem.Nights.Count, count));

    /// <summary>Tasks of one zone and night and those that hang on them, at least so many.</summary>
    private Freedom TasksNear(Schedule plan, int count)
    {
        var works = plan.Work.Where(work => work.Stint is not null).ToArray();
        var around = works[chance.Next(works.Length)];
        var near = works
            .OrderBy(work => (work.Night == around.Night ? 0 : 1) + (work.Zone == around.Zone ? 0 : 1) + chance.NextDouble())
            .Select(work => problem.Stints[work.Stint!.Value].Task.Index).Distinct().Take(count).ToHashSet();
        return Neighbourhood.Tasks(problem, plan, task => near.Contains(task.Index));
    }

    private Freedom PeopleNear(Schedule plan, int count) => Neighbourhood.People(problem, plan, Marks(problem.Crew.Count, count));

    private Freedom DisplaysNear(Schedule plan, int count)
    {
        var marks = Marks(problem.Displays.Count, count);
        foreach (var display in problem.Displays)
            if (display.Alternate is { } alternate) marks[alternate] |= marks[display.Index];
        return Neighbourhood.Displays(problem, plan, marks);
    }

    private bool[] Marks(int of, int count)
    {
        var marks = new bool[of];
        foreach (var index in Some(of, count)) marks[index] = true;
        return marks;
    }

    private IEnumerable<int> Some(int of, int count)
    {
        var all = Enumerable.Range(0, of).ToArray();
        chance.Shuffle(all);
        return all.Take(count);
    }

    /// <summary>A kind of part, how large it is taken, and how it has paid by goal.</summary>
    private sealed class Kind(string name, double size, double least, double most, Func<Schedule, int, Freedom> free)
    {
        private readonly Dictionary<int, double> pay = [];

        public string Name => name;
        public double Size { get; private set; } = Math.Clamp(size, least, most);
        public Freedom Free(Schedule plan, int count) => free(plan, count);
        public double Weight(int goal) => 0.05 + pay.GetValueOrDefault(goal, 1);

        /// <summary>What is solved to the end may be larger next time, what is not may be smaller.</summary>
        public void Tell(double gain, bool toTheEnd, double spent, int goal)
        {
            pay[goal] = 0.8 * pay.GetValueOrDefault(goal, 1) + 0.2 * Math.Min(5, gain / Math.Max(0.1, spent));
            if (gain == 0) Size = Math.Clamp(toTheEnd ? Size * 1.15 + least * 0.1 : Size * 0.9 - least * 0.1, least, most);
        }
    }
}
