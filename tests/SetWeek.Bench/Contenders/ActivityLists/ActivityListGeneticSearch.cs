using SetWeek.Model.Problems;
using SetWeek.Planning.Compact;

namespace SetWeek.Bench.Contenders.ActivityLists;

/// <summary>
/// For a long night: orders of the jobs are bred (Hartmann 1998). What a child's order gives is a schedule pushed to the night's
/// end and back, which shortens most of them (double justification: Valls, Ballestin and Quintanilla 2005); parents are kept
/// as the order in which they are pushed, so that a child takes two schedules and not three.
/// </summary>
internal sealed class ActivityListGeneticSearch
{
    /// <summary>Parents at most, and schedules for each of them where those that may be built are counted.</summary>
    private const int MaxPopulation = 80, SchedulesPerParent = 25;

    /// <summary>Children bred without an earlier finish, after which the breed has become too alike and is begun anew.</summary>
    private const int StagnationLimit = 2000;

    /// <summary>The least share of an order that a child has of its other parent; how often neighbours change places.</summary>
    private const double MinCrossoverShare = 1 / 3.0, MutationProbability = 0.1;

    /// <summary>
    /// How far first orders are from latest starts, in lengths of the critical path: nearly by chance, so that they differ.
    /// </summary>
    private const double SamplingNoise = 1.5;

    private readonly SingleNightProject project;
    private readonly SplitMix64 random;
    private readonly int populationSize;
    private readonly long maxSchedules;
    private readonly SerialScheduleGeneration pass;
    private readonly List<(int Finish, int[] Order)> population = [];
    private readonly int[] order, openPredecessors, latestStarts;
    private readonly bool[] used;
    private int stepsWithoutImprovement;

    /// <param name="project">What is planned.</param>
    /// <param name="random">Where its numbers come from.</param>
    /// <param name="maxSchedules">Schedules that may be built.</param>
    public ActivityListGeneticSearch(SingleNightProject project, SplitMix64 random, long maxSchedules)
    {
        (this.project, this.random, this.maxSchedules) = (project, random, maxSchedules);
        populationSize = (int)Math.Clamp(maxSchedules / SchedulesPerParent, 2, MaxPopulation);
        pass = new SerialScheduleGeneration(project);
        (order, openPredecessors, used) = (new int[project.Count], new int[project.Count], new bool[project.Count]);
        latestStarts = project.LatestStarts();
        Best = new Schedule { Work = [], Shifts = [], Keyholders = [] };
    }

    /// <summary>Whole schedules built: two for a child, three for a first order. What the literature counts.</summary>
    public long Schedules { get; private set; }

    public int BestFinish { get; private set; } = int.MaxValue;
    public Schedule Best { get; private set; }

    /// <summary>One more order; true where it finishes earlier than the best so far.</summary>
    public bool Step()
    {
        if (population.Count < populationSize)
        {
            SampleOrder();
            Build(backward: false);
        }
        else CrossOver();
        Build(backward: true);
        if (!Build(backward: false)) return false;
        AddToPopulation(pass.Finish);
        if (pass.Finish >= BestFinish)
        {
            if (++stepsWithoutImprovement % StagnationLimit == 0) population.Clear();
            return false;
        }
        (stepsWithoutImprovement, BestFinish, Best) = (0, pass.Finish, pass.Schedule());
        return true;
    }

    /// <summary>False where no more schedules may be built.</summary>
    private bool Build(bool backward)
    {
        if (Schedules == maxSchedules) return false;
        Schedules++;
        pass.Run(order, backward);
        return true;
    }

    /// <summary>By latest starts, blurred: what the least time is left for comes first.</summary>
    private void SampleOrder()
    {
        var blur = population.Count == 0 ? 0 : -SamplingNoise * latestStarts.Min();
        for (var activity = 0; activity < project.Count; activity++) openPredecessors[activity] = project.Predecessors[activity].Length;
        for (var at = 0; at < project.Count; at++)
        {
            var (next, least) = (-1, double.MaxValue);
            for (var activity = 0; activity < project.Count; activity++)
            {
                if (openPredecessors[activity] != 0) continue;
                var key = latestStarts[activity] + blur * random.NextDouble();
                if (key < least) (next, least) = (activity, key);
            }
            order[at] = next;
            openPredecessors[next] = -1;
            foreach (var precedence in project.Successors[next]) openPredecessors[precedence.Activity]--;
        }
    }

    /// <summary>Two points, well apart: the middle follows one parent, the ends the other.</summary>
    private void CrossOver()
    {
        var (mother, father) = (SelectParent(), SelectParent());
        var length = (int)(project.Count * (MinCrossoverShare + (1 - MinCrossoverShare) * random.NextDouble()));
        var first = random.NextBelow(project.Count - length + 1);
        Array.Clear(used);
        var at = 0;
        Follow(mother, first);
        Follow(father, first + length);
        Follow(mother, project.Count);
        for (var place = 1; place < project.Count; place++)
            if (random.NextBoolean(MutationProbability) && !ArePrecedenceRelated(order[place - 1], order[place]))
                (order[place - 1], order[place]) = (order[place], order[place - 1]);

        void Follow(int[] parent, int until)
        {
            for (var from = 0; at < until; from++)
                if (!used[parent[from]])
                {
                    used[parent[from]] = true;
                    order[at++] = parent[from];
                }
        }
    }

    /// <summary>The better of two; parents are kept best first.</summary>
    private int[] SelectParent() => population[Math.Min(random.NextBelow(population.Count), random.NextBelow(population.Count))].Order;

    /// <summary>Orders are those of the push to the end: what follows comes first.</summary>
    private bool ArePrecedenceRelated(int activity, int next) => Array.Exists(project.Predecessors[activity], precedence => precedence.Activity == next);

    private void AddToPopulation(int finish)
    {
        if (population.Count >= populationSize && finish > population[^1].Finish) return;
        foreach (var (other, kept) in population)
            if (other == finish && kept.AsSpan().SequenceEqual(order)) return;
        var at = population.FindIndex(one => one.Finish >= finish);
        population.Insert(at < 0 ? population.Count : at, (finish, [.. order]));
        if (population.Count > populationSize) population.RemoveAt(populationSize);
    }
}
