using SetWeek.Model.Durations;
using SetWeek.Model.Problems;
using SetWeek.Model.Simulation;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Annealing.Parameters;
using SetWeek.Planning.Compact;
using SetWeek.Planning.Insertion;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Annealing;

/// <summary>
/// Finds and improves plans by heuristics: a first plan by the serial schedule-generation scheme, then displays that were left
/// out, then ruin and recreate for the goals in their order. Deterministic if the budget is.
/// </summary>
internal sealed partial class HeuristicSearch
{
    private readonly Problem problem;
    private readonly Incumbent incumbent;
    private readonly Budget budget;
    private readonly HeuristicSearchParameters parameters;
    private readonly CompactProblem compact;
    private readonly ActivityInsertion insertion;
    private readonly SerialInsertion serialInsertion;
    private readonly PartialScheduleReader reader;
    private readonly FeasibilitySearch feasibilitySearch;
    private readonly SimulatedAnnealing annealing;
    private readonly PriorityRuleSampling construction;
    private readonly PublishedPlanRepair repair;
    private readonly StaffReassignment reassignment;
    private readonly Rostering rostering;
    private readonly PartialSchedule initial, working, leastMissing;
    private readonly bool asSecondSearch;
    private readonly WeightedObjective objective;
    private readonly CoolingSchedule cooling;
    private long startsCharged, nightsCharged;
    private double offeredAt = double.MinValue, offerTook;
    private bool offerPending;

    /// <param name="problem">The week to plan.</param>
    /// <param name="incumbent">Receives every better plan. The search also continues from the plans of other searches.</param>
    /// <param name="budget">Time or effort that the search may use.</param>
    /// <param name="asSecondSearch">
    /// True: the search runs beside another one and starts from its plan. It starts half cooled and has its own random numbers.
    /// </param>
    /// <param name="lateWork">Late work to minimise in place of the goal nights; null: none.</param>
    /// <param name="parameters">Null: the defaults.</param>
    public HeuristicSearch(Problem problem, Incumbent incumbent, Budget budget, bool asSecondSearch = false,
        LateWorkCriterion? lateWork = null, HeuristicSearchParameters? parameters = null)
    {
        (this.asSecondSearch, this.parameters) = (asSecondSearch, parameters ??= new());
        (this.problem, this.incumbent, this.budget) = (problem, incumbent, budget);
        compact = new CompactProblem(problem, lateWork);
        var random = new SplitMix64(budget.Seed + (asSecondSearch ? 1 : 0));
        var shortestShift = new ShortestShift(compact);
        insertion = new ActivityInsertion(compact, shortestShift, random);
        rostering = new Rostering(compact, shortestShift, new StaffMatching(compact, shortestShift));
        serialInsertion = new SerialInsertion(compact, insertion, rostering);
        reader = new PartialScheduleReader(compact, shortestShift);
        objective = new WeightedObjective(compact, parameters.Objective);
        cooling = objective.Hold is not null ? parameters.Annealing.CoolingForHold
            : WeekSize.IsSmall(problem) ? parameters.Annealing.CoolingOfSmallWeek : parameters.Annealing.Cooling;
        var ruin = new Ruin(compact, insertion, random, parameters.Ruin);
        construction = new PriorityRuleSampling(compact, insertion, serialInsertion, random, parameters.Construction);
        feasibilitySearch =
            new FeasibilitySearch(compact, ruin, insertion, rostering, serialInsertion, random, parameters.Feasibility);
        annealing = new SimulatedAnnealing(compact, ruin, insertion, rostering, serialInsertion, objective, random,
            parameters.Annealing);
        repair = new PublishedPlanRepair(compact, ruin, insertion, rostering, serialInsertion, objective, random,
            parameters.Repair);
        reassignment = new StaffReassignment(compact, shortestShift, random, parameters.Reassignment);
        initial = InitialPartialSchedule.Of(compact);
        (working, leastMissing) = (new PartialSchedule(compact), new PartialSchedule(compact));
    }

    /// <summary>Finds a plan if there is none yet, and improves it.</summary>
    /// <param name="until">Share of the budget at which to stop.</param>
    public void Improve(double until = 1)
    {
        if (!Find(until)) return;
        var startedAt = budget.SpentShare;
        ReduceLeftOut(startedAt + parameters.Annealing.LeftOutShare * (until - startedAt));
        ImproveGoalsBeforeCost(until);
        startedAt = budget.SpentShare;
        var cycle = CycleAt(0, startedAt);
        WeighHold(cycle);
        Anneal(-1, share => cooling.TemperatureIn(CycleAt(share, startedAt)), until, parameters.StepsBetweenAdoptions, () =>
        {
            var before = cycle.Number;
            cycle = CycleAt((budget.SpentShare - startedAt) / (until - startedAt), startedAt);
            if (objective.Hold is not null && cycle.Number > before) annealing.ReturnToBest();
            WeighHold(cycle);
            return AdoptIncumbent();
        });
        annealing.WeighHold(1);
        ReassignStaff();
    }

    /// <summary>
    /// Reassigns the people of the best plan at its times, then shortens the shifts where that is possible. It takes some
    /// milliseconds, also beyond the budget.
    /// </summary>
    public void ReassignStaff()
    {
        if (!reassignment.IsWorthwhile || incumbent.Best is not { } best) return;
        if (annealing.HasPlan) AdoptIncumbent();
        else Adopt(best);
        working.CopyFrom(annealing.Best);
        var steps = reassignment.Steps;
        reassignment.Improve(working);
        budget.Charge((reassignment.Steps - steps) / parameters.Reassignment.StepsPerEffortUnit);
        if (annealing.TryStartFrom(working)) Offer();
        if (rostering.TryRoster(working) && annealing.TryStartFrom(working)) Offer();
    }

    /// <summary>
    /// Anneals until a share of the budget is spent, the goal is at its bound or <paramref name="shouldStop"/> is true.
    /// </summary>
    /// <param name="goal">Index of the goal that is improved; -1: all.</param>
    /// <param name="temperatureAt">Temperature by the elapsed share of this loop's time.</param>
    /// <param name="until">Share of the budget at which to stop.</param>
    /// <param name="stepsBetweenChecks">Steps from one call of <paramref name="shouldStop"/> to the next.</param>
    /// <param name="shouldStop">Returns true to stop. It may also set another plan from which the annealing continues.</param>
    private void Anneal(int goal, Func<double, double> temperatureAt, double until, int stepsBetweenChecks, Func<bool> shouldStop)
    {
        var startedAt = budget.SpentShare;
        while (!IsOver(until) && (goal < 0 || annealing.BestValues[goal] > incumbent.Bounds()[goal]))
        {
            var share = (budget.SpentShare - startedAt) / (until - startedAt);
            if (annealing.Step(temperatureAt(share), goal)) offerPending = true;
            if (annealing.Steps % parameters.StepsBetweenOffers == 0) OfferIfDue();
            if (annealing.Steps % stepsBetweenChecks == 0 && shouldStop()) break;
        }
        if (offerPending && !objective.IgnoresHold) Offer();
    }

    /// <summary>The best plan; meaningful once there is one.</summary>
    public Schedule Best => ScheduleCompletion.Of(compact, annealing.Best);

    /// <summary>Continues from a plan of the same week.</summary>
    public void StartFrom(Schedule schedule) => Adopt(schedule);

    /// <summary>
    /// The cooling at a share of the phase that improves the weighted sum. A late phase is the second half of a single cooling,
    /// because it continues from a good plan.
    /// </summary>
    /// <param name="share">Elapsed share of the phase.</param>
    /// <param name="startedAt">Share of the budget at which the phase started.</param>
    private CoolingCycle CycleAt(double share, double startedAt) => startedAt >= parameters.Annealing.LateStart || asSecondSearch
        ? new CoolingCycle(0, (1 + share) / 2) : cooling.CycleAt(share);

    /// <summary>
    /// The weight of the goal hold rises in each cooling. Under its full weight from the start, the search would pay for every
    /// chance at once and could not save that cost later. It rises further while no plan reaches the chance asked for.
    /// </summary>
    private void WeighHold(CoolingCycle cycle)
    {
        if (objective.Hold is null) return;
        var settings = parameters.Annealing;
        var fullFrom = settings.FullHoldWeightFrom;
        var first = cycle.Number == 0 ? settings.FirstHoldWeight : settings.ReheatHoldWeight;
        annealing.WeighHold(cycle.Share < fullFrom ? Math.Max(first, cycle.Share / fullFrom)
            : annealing.MissesChance ? 1 + (settings.LastHoldWeight - 1) * (cycle.Share - fullFrom) / (1 - fullFrom) : 1);
    }

    private bool IsOver(double until)
    {
        ChargeEffort();
        return budget.Spent || budget.SpentShare >= until;
    }

    private void ChargeEffort()
    {
        var starts = Math.Max(parameters.MinStartsPerStep, insertion.StartsEvaluated - startsCharged);
        budget.Charge(starts / parameters.StartsPerEffortUnit);
        startsCharged = insertion.StartsEvaluated;
        if (objective.Hold is not { } hold) return;
        budget.Charge((hold.NightsEvaluated - nightsCharged) * parameters.EffortPerNightEvaluated);
        nightsCharged = hold.NightsEvaluated;
    }

    /// <summary>Continues from the complete plan in <see cref="working"/>; true if a checked plan is known now.</summary>
    private bool StartImproving()
    {
        annealing.StartFrom(working);
        return Offer();
    }

    private void OfferIfDue()
    {
        if (!offerPending || objective.IgnoresHold && !IsBetterThanIncumbent) return;
        var pause = offerTook * parameters.PausePerOffer;
        if (Spent - offeredAt > (budget.Deterministic ? pause : Math.Max(parameters.SecondsBetweenOffers, pause))) Offer();
    }

    /// <summary>What is spent so far: units of effort where the budget is deterministic, otherwise seconds.</summary>
    private double Spent => budget.Deterministic ? budget.Used : budget.Elapsed.TotalSeconds;

    private bool Offer()
    {
        var startedAt = Spent;
        offerPending = false;
        var schedule = ScheduleCompletion.Of(compact, annealing.Best);
        if (!objective.HoldCounts) incumbent.Offer(schedule);
        else
        {
            var held = HeldIn(schedule);
            var isBest = incumbent.Offer(schedule, held);
            annealing.CorrectHold(held);
            if (!isBest) AdoptIncumbent();
        }
        offeredAt = Spent;
        offerTook = offeredAt - startedAt;
        return incumbent.Best is not null;
    }

    /// <summary>Simulates a plan: the scenarios that it holds in. Charges the effort.</summary>
    private int HeldIn(Schedule schedule)
    {
        budget.Charge(parameters.EffortPerSimulatedActivity * schedule.Work.Count * problem.Week.Hold.Scenarios);
        return HeldScenarios.Of(problem, schedule).Held;
    }

    /// <summary>
    /// Is the best plan better than the incumbent in the goals before hold? Only such a plan is offered while hold is ignored.
    /// </summary>
    private bool IsBetterThanIncumbent
    {
        get
        {
            var count = problem.PositionOf(GoalId.Hold);
            return incumbent.Values is not { } values
                || annealing.BestValues.AsSpan(0, count).SequenceCompareTo(values.AsSpan(0, count)) < 0;
        }
    }

    /// <summary>Continues from the incumbent if it is better; always false, so that the annealing continues.</summary>
    private bool AdoptIncumbent()
    {
        if (incumbent.Values is { } values && values.AsSpan().SequenceCompareTo(annealing.BestValues.AsSpan(0, values.Length)) < 0
            && incumbent.Best is { } best)
            Adopt(best);
        return false;
    }

    private void Adopt(Schedule schedule)
    {
        reader.Read(working, initial, schedule);
        if (!objective.HoldCounts) annealing.StartFrom(working);
        else
        {
            annealing.ReplaceBest(working);
            annealing.CorrectHold(HeldIn(schedule));
        }
    }
}
