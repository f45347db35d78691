using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// Repairs the published plan: what a fact disturbs is missing at first, and what is in its way is taken out and put back, with
/// as few changes as can be. In rounds that cool, each from what is kept of the published plan or from the best repair so far.
/// What is shown stays what was published, unless there is no room for it.
/// </summary>
internal sealed class PublishedPlanRepair(CompactProblem compact, ActivityInsertion insertion, Rostering rostering, SerialInsertion serialInsertion, WeightedObjective objective, SplitMix64 random)
{
    /// <summary>In changes: how much worse a draft may be and still be gone on with, about, at a round's beginning and end.</summary>
    private const double InitialTemperature = 1.5, FinalTemperature = 0.15;

    /// <summary>
    /// In changes: what a slot of somebody's work missing counts at first and at most (more with every step, so that at last a
    /// plan is found, if with more changes), and what a stint at another time or with other people counts. A point of what is
    /// left out counts one.
    /// </summary>
    private const double MissingWeight = 0.15, MaxMissingWeight = 1.5, MissingWeightGrowth = 1.01, ReshuffledWorkWeight = 0.03;

    /// <summary>While there is no plan, changes count less in every other round: any plan is better than none.</summary>
    private const double LowChangeWeight = 0.15;

    /// <summary>Share of the tries, while something is missing, in which a want without room may be left out; and after a while.</summary>
    private const double LeaveOutProbability = 0.1, LateLeaveOutProbability = 0.4;

    /// <summary>
    /// Share of the tries in which somebody is taken off a night. Published shifts stay by themselves, idle ones too, and so may
    /// keep the only ones who can do something from the night in which it has to be done now.
    /// </summary>
    private const double PersonNightProbability = 0.1;

    /// <summary>Steps in a round.</summary>
    private const int StepsPerRound = 300;

    private readonly Ruin ruin = new(compact, insertion, random);
    private readonly PartialSchedule keptMost = new(compact), keptLess = new(compact), keptShifts = new(compact), current = new(compact), trial = new(compact);
    private readonly int[] order = new int[compact.Activities.Length];
    private readonly double[] keys = new double[compact.Activities.Length];
    private readonly InsertionPrices prices = InsertionPrices.For(compact.Problem);
    /// <summary>Published shifts that need not stay, by person and night: of the draft gone on with, and of the best.</summary>
    private readonly bool[] currentReleased = new bool[compact.People * compact.Nights], bestReleased = new bool[compact.People * compact.Nights];
    private List<int> missing = [];
    private double currentCost, bestCost = double.MaxValue, missingWeight = MissingWeight, changeWeight = 1;
    private int steps, missingWork;

    /// <summary>The best whole plan so far, after a <see cref="Step"/> that found one.</summary>
    public PartialSchedule Best { get; } = new(compact);

    public bool IsFound => bestCost < double.MaxValue;

    /// <summary>Begins with what can be kept of the published plan, or with less, which leaves more room; the rest is missing.</summary>
    public void StartFrom(PartialSchedule kept, PartialSchedule withoutSuccessors)
    {
        keptMost.CopyFrom(kept);
        keptLess.CopyFrom(withoutSuccessors);
        ruin.RemoveWithoutCleanDown(keptMost);
        ruin.RemoveWithoutCleanDown(keptLess);
        keptShifts.CopyFrom(kept);
        for (var activity = 0; activity < compact.Activities.Length; activity++)
            if (keptShifts.Night[activity] >= 0 && !compact.Activities[activity].HasBegun) keptShifts.Remove(activity);
        ContinueFrom(keptMost);
    }

    /// <summary>Another's plan, to go on from where it is better.</summary>
    public void TakeIfBetter(PartialSchedule plan)
    {
        changeWeight = 1;
        if (CostOf(plan, 0) is var weight && weight >= bestCost) return;
        Best.CopyFrom(plan);
        bestCost = weight;
        Array.Clear(bestReleased);
    }

    /// <summary>One try; true where it found a better whole plan.</summary>
    public bool Step()
    {
        if (++steps % StepsPerRound == 0) StartRound();
        if (missing.Count > 0)
        {
            missingWeight = missingWeight < MaxMissingWeight ? missingWeight * MissingWeightGrowth : MissingWeight;
            currentCost = CostOf(current, missingWork);
        }
        trial.CopyFrom(current);
        currentReleased.CopyTo(compact.Published.ReleasedShifts, 0);
        var taken = TryStep();
        if (taken) compact.Published.ReleasedShifts.CopyTo(currentReleased, 0);
        Array.Clear(compact.Published.ReleasedShifts);
        if (!taken || missing.Count > 0) return false;
        changeWeight = 1;
        ContinueFrom(trial);
        if (currentCost >= bestCost) return false;
        Best.CopyFrom(current);
        bestCost = currentCost;
        currentReleased.CopyTo(bestReleased, 0);
        return true;
    }

    private bool TryStep()
    {
        RemoveSome();
        if (!rostering.TryRoster(trial)) return false;
        insertion.Rule = InsertionRule.LowestPrice;
        insertion.Prices = prices with
        {
            PayFactor = 0.3 * random.NextDouble(), WorkedTime = random.NextDouble(), Versatility = 2 * random.NextDouble(),
            Noise = random.NextBelow(3) switch { 0 => 0, 1 => 0.05, _ => 0.3 },
        };
        var mayLeaveOut = missing.Count > 0 && random.NextBoolean(steps > StepsPerRound && !IsFound ? LateLeaveOutProbability : LeaveOutProbability);
        if (!serialInsertion.InsertAll(trial, order.AsSpan(0, Order()), mayLeaveOut)) return false;
        var weight = CostOf(trial, serialInsertion.MissingWork);
        var heat = InitialTemperature * Math.Pow(FinalTemperature / InitialTemperature, steps % StepsPerRound / (double)StepsPerRound);
        if (weight > currentCost - heat * Math.Log(Math.Max(1e-9, random.NextDouble()))) return false;
        ContinueFrom(trial);
        return true;
    }

    private void StartRound()
    {
        missingWeight = MissingWeight;
        changeWeight = IsFound || (steps / StepsPerRound & 1) == 0 ? 1 : LowChangeWeight;
        var again = IsFound && random.NextBoolean(0.5);
        trial.CopyFrom(again ? Best : RoundStart());
        if (again) bestReleased.CopyTo(currentReleased, 0);
        else Array.Clear(currentReleased);
        if (!IsFound && steps > 2 * StepsPerRound) TakeNextChoice(trial);
        ContinueFrom(trial);
    }

    /// <summary>Most of what was published, less of it, the shifts alone: each leaves more room, and more to put back.</summary>
    private PartialSchedule RoundStart() => (steps / StepsPerRound / 2 % 3) switch { 0 => keptMost, 1 => keptLess, _ => keptShifts };

    /// <summary>Some display, whichever, takes its next choice: the room that it leaves may be what is wanting.</summary>
    private void TakeNextChoice(PartialSchedule schedule)
    {
        var at = random.NextBelow(compact.DisplayDecisions.Length);
        for (var step = 0; step < compact.DisplayDecisions.Length; step++, at = (at + 1) % compact.DisplayDecisions.Length)
        {
            var choices = compact.DisplayDecisions[at].OpenChoices;
            var next = Array.IndexOf(choices, schedule.Choice[at]) + 1;
            if (next >= choices.Length) continue;
            serialInsertion.SwitchChoice(schedule, at, choices[next]);
            return;
        }
    }

    private void RemoveSome()
    {
        if (random.NextBoolean(PersonNightProbability)) ruin.RemovePersonNight(trial);
        else if (missing.Count > 0 && random.NextBoolean(0.75))
            // What comes first is asked for more often: the rest waits for it.
            ruin.RemoveBlockers(trial, missing[Math.Min(random.NextBelow(missing.Count), random.NextBelow(missing.Count))], random.NextBoolean(0.6));
        else if (random.NextBoolean(0.7)) ruin.RemoveDisplaced(trial, 1 + random.NextBelow(4));
        else ruin.Remove(trial, 1 + random.NextBelow(9));
    }

    private void ContinueFrom(PartialSchedule schedule)
    {
        current.CopyFrom(schedule);
        missing = serialInsertion.MissingIn(current);
        missingWork = missing.Sum(serialInsertion.WorkContent);
        currentCost = CostOf(current, missingWork);
    }

    private double CostOf(PartialSchedule schedule, int missingContent) =>
        missingWeight * missingContent + objective.LeftOut(schedule) + changeWeight * objective.Changes(schedule) + ReshuffledWorkWeight * compact.Published.ReshuffledWork(schedule);

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
                0 => what.LatestEnd + 300 * random.NextDouble(),
                1 => (current.Night[activity] < 0 ? 0 : 1) + 0.5 * random.NextDouble(),
                2 => what.TopologicalRank,
                _ => random.NextDouble() - serialInsertion.WorkContent(activity) / 30.0,
            };
        }
        keys.AsSpan(0, count).Sort(order.AsSpan(0, count));
        return count;
    }
}
