using SetWeek.Model.Durations;
using SetWeek.Model.Problems;

namespace SetWeek.Bench.Contenders.ActivityLists;

/// <summary>
/// A genetic algorithm over activity lists for one long night (Hartmann 1998). Each child is improved by double justification:
/// its schedule is shifted to the end of the night and back (Valls, Ballestin and Quintanilla 2005). The population stores the
/// lists that the shift to the end uses, so that a child takes two schedules and not three.
/// </summary>
internal sealed class ActivityListGeneticSearch
{
    /// <summary>Maximum size of the population, and the number of schedules for each parent where the total is limited.</summary>
    private const int MaxPopulation = 80, SchedulesPerParent = 25;

    /// <summary>Number of children without an improvement after which the population is discarded and sampled again.</summary>
    private const int StagnationLimit = 2000;

    /// <summary>Minimum share of a list that comes from the second parent; probability of a swap of neighbours.</summary>
    private const double MinCrossoverShare = 1 / 3.0, MutationProbability = 0.1;

    /// <summary>
    /// Noise on the latest starts that order the first lists, in lengths of the critical path, so that the lists differ.
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

    /// <param name="project">The project.</param>
    /// <param name="random">The source of random numbers.</param>
    /// <param name="maxSchedules">Maximum number of schedules.</param>
    public ActivityListGeneticSearch(SingleNightProject project, SplitMix64 random, long maxSchedules)
    {
        (this.project, this.random, this.maxSchedules) = (project, random, maxSchedules);
        populationSize = (int)Math.Clamp(maxSchedules / SchedulesPerParent, 2, MaxPopulation);
        pass = new SerialScheduleGeneration(project);
        (order, openPredecessors, used) = (new int[project.Count], new int[project.Count], new bool[project.Count]);
        latestStarts = project.LatestStarts();
        Best = new Schedule { Work = [], Shifts = [], Keyholders = [] };
    }

    /// <summary>Number of schedules built, as the literature counts them: two for a child, three for a sampled list.</summary>
    public long Schedules { get; private set; }

    public int BestFinish { get; private set; } = int.MaxValue;
    public Schedule Best { get; private set; }

    /// <summary>Builds one more individual. Returns true if it improves the best makespan.</summary>
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

    /// <summary>False if the maximum number of schedules is reached.</summary>
    private bool Build(bool backward)
    {
        if (Schedules == maxSchedules) return false;
        Schedules++;
        pass.Run(order, backward);
        return true;
    }

    /// <summary>Orders the activities by their latest starts plus noise, subject to the precedences.</summary>
    private void SampleOrder()
    {
        var noise = population.Count == 0 ? 0 : -SamplingNoise * latestStarts.Min();
        for (var activity = 0; activity < project.Count; activity++)
            openPredecessors[activity] = project.Predecessors[activity].Length;
        for (var position = 0; position < project.Count; position++)
        {
            var (next, least) = (-1, double.MaxValue);
            for (var activity = 0; activity < project.Count; activity++)
            {
                if (openPredecessors[activity] != 0) continue;
                var key = latestStarts[activity] + noise * random.NextDouble();
                if (key < least) (next, least) = (activity, key);
            }
            order[position] = next;
            openPredecessors[next] = -1;
            foreach (var precedence in project.Successors[next]) openPredecessors[precedence.Activity]--;
        }
    }

    /// <summary>
    /// Two-point crossover: the middle comes from the second parent, the ends from the first. Then neighbours are swapped.
    /// </summary>
    private void CrossOver()
    {
        var (firstParent, secondParent) = (SelectParent(), SelectParent());
        var length = (int)(project.Count * (MinCrossoverShare + (1 - MinCrossoverShare) * random.NextDouble()));
        var first = random.NextBelow(project.Count - length + 1);
        Array.Clear(used);
        var at = 0;
        Follow(firstParent, first);
        Follow(secondParent, first + length);
        Follow(firstParent, project.Count);
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

    /// <summary>Binary tournament; the population is sorted by makespan.</summary>
    private int[] SelectParent() =>
        population[Math.Min(random.NextBelow(population.Count), random.NextBelow(population.Count))].Order;

    /// <summary>Lists are those of the backward pass, so a successor precedes its predecessors.</summary>
    private bool ArePrecedenceRelated(int activity, int next) =>
        Array.Exists(project.Predecessors[activity], precedence => precedence.Activity == next);

    private void AddToPopulation(int finish)
    {
        if (population.Count >= populationSize && finish > population[^1].Finish) return;
        foreach (var (other, kept) in population)
            if (other == finish && kept.AsSpan().SequenceEqual(order)) return;
        var at = population.FindIndex(known => known.Finish >= finish);
        population.Insert(at < 0 ? population.Count : at, (finish, [.. order]));
        if (population.Count > populationSize) population.RemoveAt(populationSize);
    }
}
