using SetWeek.Model.Weeks;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// Ruin and recreate (Schrimpf and others 2000; Christiaens and Vanden Berghe 2020): some jobs are taken out and put back
/// where they cost least; a plan somewhat worse is gone on with while it is hot, none when it has cooled.
/// </summary>
internal sealed class SimulatedAnnealing(CompactProblem compact, ActivityInsertion insertion, Rostering rostering, SerialInsertion serialInsertion, WeightedObjective objective, SplitMix64 random)
{
    /// <summary>
    /// Most jobs that one ruin sets out to take: where little was taken, putting it back changes something oftener.
    /// </summary>
    private const int MaxRemoved = 4;

    /// <summary>
    /// Of the ruins while changes are bettered, the share that begins with what is otherwise than published, and with what is in
    /// the way of its going back.
    /// </summary>
    private const double DisplacedProbability = 0.5;

    private readonly Ruin ruin = new(compact, insertion, random);
    private readonly PartialSchedule current = new(compact), trial = new(compact);
    private readonly long[] trialValues = new long[objective.Count];
    private readonly int[] order = new int[compact.Activities.Length];
    private readonly double[] keys = new double[compact.Activities.Length];
    private readonly InsertionPrices prices = InsertionPrices.For(compact.Problem);
    private double currentCost;

    public PartialSchedule Best { get; } = new(compact);
    public long[] BestValues { get; } = new long[objective.Count];

    /// <summary>Is there a plan with nothing missing?</summary>
    public bool HasPlan { get; private set; }

    public long Steps { get; private set; }

    /// <summary>Goes on from a plan.</summary>
    public void StartFrom(PartialSchedule schedule)
    {
        current.CopyFrom(schedule);
        objective.Evaluate(schedule, trialValues);
        currentCost = objective.WeightedSum(trialValues);
        if (!HasPlan || trialValues.AsSpan().SequenceCompareTo(BestValues) < 0) SetBest(schedule);
    }

    /// <summary>The same, where it is better than the best so far.</summary>
    public bool TryStartFrom(PartialSchedule schedule)
    {
        objective.Evaluate(schedule, trialValues);
        if (HasPlan && trialValues.AsSpan().SequenceCompareTo(BestValues) >= 0) return false;
        StartFrom(schedule);
        return true;
    }

    /// <summary>
    /// One ruin and recreate; heat is in hours of mean pay or, where a goal is named, in units of that; 0 takes no step back.
    /// True where a better plan was found.
    /// </summary>
    public bool Step(double temperature, int goal = -1)
    {
        Steps++;
        trial.CopyFrom(current);
        var about = 1 + random.NextBelow(MaxRemoved);
        if (goal >= 0 && compact.Problem.Goals[goal].Goal == GoalId.Changes && random.NextBoolean(DisplacedProbability)) ruin.RemoveDisplaced(trial, about);
        else ruin.Remove(trial, about);
        // Shifts shrink to the work that is left, so that time nobody is needed for is not taken as paid.
        if (!rostering.TryRoster(trial)) return false;
        DrawPrices();
        var wishes = random.NextBoolean(0.03) && TryBetterChoice();
        var count = Order();
        if (!serialInsertion.InsertAll(trial, order.AsSpan(0, count), wishes || random.NextBoolean(0.02), allOrNothing: true)
            || serialInsertion.MissingCount > 0)
            return false;
        var unit = goal < 0 ? Math.Max(1, compact.MeanRate) : objective.WeightOf(goal);
        var most = currentCost - temperature * unit * Math.Log(Math.Max(1e-12, random.NextDouble()));
        if (objective.EvaluateWithin(trial, trialValues, most, BestValues) is not { } weight) return false;
        var better = trialValues.AsSpan().SequenceCompareTo(BestValues) < 0;
        current.CopyFrom(trial);
        currentCost = weight;
        if (better) SetBest(trial);
        return better;
    }

    /// <summary>
    /// The first goal before money that counts changes or the like and is not at its bound; -1: none.
    /// </summary>
    public int FirstOpenGoalBeforeCost(long[] bounds)
    {
        var goals = compact.Problem.Goals;
        for (var goal = 0; goal < goals.Count && goals[goal].Goal != GoalId.Cost; goal++)
            if (goals[goal].Goal is GoalId.Changes or GoalId.Shifts or GoalId.Nights or GoalId.Moves && BestValues[goal] > bounds[goal]) return goal;
        return -1;
    }

    /// <summary>Back to the best.</summary>
    public void ReturnToBest()
    {
        current.CopyFrom(Best);
        currentCost = objective.WeightedSum(BestValues);
    }

    /// <summary>Asks for a display that is left out or replaced; another may have to go for it.</summary>
    private bool TryBetterChoice()
    {
        var option = random.NextBelow(compact.DisplayDecisions.Length);
        var (values, choice) = (compact.DisplayDecisions[option].LeftOutValues, compact.DisplayDecisions[option].OpenChoices[0]);
        if (values[choice] >= values[trial.Choice[option]]) return false;
        serialInsertion.SwitchChoice(trial, option, choice);
        return true;
    }

    private void SetBest(PartialSchedule schedule)
    {
        HasPlan = true;
        Best.CopyFrom(schedule);
        objective.Evaluate(schedule, BestValues);
    }

    private void DrawPrices()
    {
        insertion.Rule = InsertionRule.LowestPrice;
        insertion.Prices = prices with
        {
            LateWork = compact.LateWork is null ? 0 : prices.LateWork * random.NextDouble(),
            WorkedTime = random.NextDouble() * 0.6,
            Versatility = random.NextBelow(2) * random.NextDouble(),
            Delay = random.NextBelow(3) switch { 0 => prices.Delay * 4, 1 => prices.Delay, _ => 0 },
            Noise = random.NextBelow(3) switch { 0 => 0, 1 => 0.03, _ => 0.15 },
        };
    }

    /// <summary>What was taken and what is missing, in one of several orders.</summary>
    private int Order()
    {
        var (count, rule) = (0, random.NextBelow(4));
        for (var activity = 0; activity < compact.Stints; activity++)
        {
            if (trial.Night[activity] >= 0 || compact.Activities[activity].IsFinal) continue;
            var what = compact.Activities[activity];
            order[count] = activity;
            keys[count++] = rule switch
            {
                0 => what.LatestEnd * (1 + 0.05 * random.NextDouble()),
                1 => what.Modes.Length == 0 ? 0 : -what.Modes[0].DurationSlots * what.Modes[0].Requirements.Length * (1 + random.NextDouble()),
                2 => what.TopologicalRank,
                _ => random.NextDouble(),
            };
        }
        keys.AsSpan(0, count).Sort(order.AsSpan(0, count));
        return count;
    }
}
