using SetWeek.Model.Problems;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// The search that builds plans job by job: a first plan at once, then room for what was left out, then ruin and recreate for
/// the goals in their order. Deterministic where the budget is.
/// </summary>
internal sealed partial class HeuristicSearch
{
    /// <summary>
    /// How much dearer a plan may be and still be gone on with, about, in hours of mean pay: at the beginning and near the
    /// end.
    /// </summary>
    private const double InitialTemperature = 0.5, FinalTemperature = 0.01;

    /// <summary>Coolings of a small week, and the temperature at the start of each but the first.</summary>
    private const int CoolingCycles = 3;
    private const double ReheatTemperature = 2;

    /// <summary>Starts looked at in what counts as one unit of effort.</summary>
    private const double StartsPerEffortUnit = 0.9e6;

    /// <summary>
    /// A plan a little better than the one told of last is kept back this long, in seconds: checking takes time too.
    /// </summary>
    private const double SecondsBetweenOffers = 0.05;

    private readonly Problem problem;
    private readonly Incumbent incumbent;
    private readonly Budget budget;
    private readonly CompactProblem compact;
    private readonly ActivityInsertion insertion;
    private readonly Rostering rostering;
    private readonly SerialInsertion serialInsertion;
    private readonly PartialScheduleReader reader;
    private readonly FeasibilitySearch feasibilitySearch;
    private readonly SimulatedAnnealing annealing;
    private readonly PriorityRuleSampling construction;
    private readonly PublishedPlanRepair repair;
    private readonly WeightedObjective objective;
    private readonly PartialSchedule initial, working, leastMissing;
    private readonly bool asSecondSearch;
    private long startsCharged;
    private double offeredAt = double.MinValue;
    private bool offerPending;

    /// <param name="problem">What is planned.</param>
    /// <param name="incumbent">Given every better plan; others' plans are gone on from.</param>
    /// <param name="budget">What may be used of time or effort.</param>
    /// <param name="asSecondSearch">Beside another search, from whose plan it begins: cool from the start, and with another chance.</param>
    /// <param name="lateWork">Nights that are to be emptied.</param>
    public HeuristicSearch(Problem problem, Incumbent incumbent, Budget budget, bool asSecondSearch = false,
        LateWorkCriterion? lateWork = null)
    {
        this.asSecondSearch = asSecondSearch;
        (this.problem, this.incumbent, this.budget) = (problem, incumbent, budget);
        compact = new CompactProblem(problem, lateWork);
        var random = new SplitMix64(budget.Seed + (asSecondSearch ? 1 : 0));
        var personNight = new ShortestShift(compact);
        insertion = new ActivityInsertion(compact, personNight, random);
        rostering = new Rostering(compact, personNight, new StaffMatching(compact, personNight));
        serialInsertion = new SerialInsertion(compact, insertion, rostering);
        reader = new PartialScheduleReader(compact, personNight);
        feasibilitySearch = new FeasibilitySearch(compact, insertion, rostering, serialInsertion, random);
        objective = new WeightedObjective(compact);
        annealing = new SimulatedAnnealing(compact, insertion, rostering, serialInsertion, objective, random);
        repair = new PublishedPlanRepair(compact, insertion, rostering, serialInsertion, objective, random);
        construction = new PriorityRuleSampling(compact, insertion, serialInsertion, random);
        initial = InitialPartialSchedule.Of(compact);
        (working, leastMissing) = (new PartialSchedule(compact), new PartialSchedule(compact));
    }

    /// <summary>Goes on until the budget is spent or, in share of it, until so much is.</summary>
    public void Improve(double until = 1, double leftOutShare = LeftOutShare)
    {
        if (!Find(until)) return;
        var began = budget.SpentShare;
        ReduceLeftOut(began + leftOutShare * (until - began));
        ImproveGoalBeforeCost(until);
        began = budget.SpentShare;
        while (!IsOver(until))
        {
            // A turn that comes later goes on from a good plan, and is not as hot.
            var share = (budget.SpentShare - began) / (until - began);
            if (annealing.Step(TemperatureAt(share, began))) offerPending = true;
            if ((annealing.Steps & 15) == 0) OfferIfDue();
            if ((annealing.Steps & 255) == 0) AdoptIncumbent();
        }
        if (offerPending) Offer();
    }

    public Schedule Best => ScheduleCompletion.Of(compact, annealing.Best);

    /// <summary>Goes on from a plan of the same week.</summary>
    public void StartFrom(Schedule schedule) => Adopt(schedule);

    /// <summary>
    /// A small week is heated again, and more: what it costs hangs on a few whole shifts, and one cooling ends in a corner.
    /// </summary>
    private double TemperatureAt(double share, double startedAt)
    {
        if (startedAt >= 0.5 || asSecondSearch) return Temperature((1 + share) / 2);
        if (!WeekSize.IsSmall(problem)) return Temperature(share);
        var turn = Math.Min(CoolingCycles - 1, (int)(share * CoolingCycles));
        return Temperature(share * CoolingCycles - turn, turn == 0 ? InitialTemperature : ReheatTemperature);
    }

    private static double Temperature(double share, double initialTemperature = InitialTemperature) =>
        share > 0.92 ? 0 : initialTemperature * Math.Pow(FinalTemperature / initialTemperature, share);

    private bool IsOver(double until)
    {
        ChargeEffort();
        return budget.Spent || budget.SpentShare >= until;
    }

    /// <summary>Where there is nothing to place nothing is looked at, and a step still counts: else it would never end.</summary>
    private void ChargeEffort()
    {
        budget.Charge(Math.Max(20, insertion.StartsEvaluated - startsCharged) / StartsPerEffortUnit);
        startsCharged = insertion.StartsEvaluated;
    }

    private bool StartImproving()
    {
        annealing.StartFrom(working);
        return Offer();
    }

    private void OfferIfDue()
    {
        if (offerPending && (budget.Deterministic || budget.Elapsed.TotalSeconds - offeredAt > SecondsBetweenOffers)) Offer();
    }

    private bool Offer()
    {
        offerPending = false;
        offeredAt = budget.Elapsed.TotalSeconds;
        return incumbent.Offer(ScheduleCompletion.Of(compact, annealing.Best)) || incumbent.Best is not null;
    }

    private void AdoptIncumbent()
    {
        if (incumbent.Values is { } values && values.AsSpan().SequenceCompareTo(annealing.BestValues.AsSpan(0, values.Length)) < 0
            && incumbent.Best is { } best)
            Adopt(best);
    }

    private void Adopt(Schedule schedule)
    {
        reader.Read(working, initial, schedule);
        annealing.StartFrom(working);
    }
}
