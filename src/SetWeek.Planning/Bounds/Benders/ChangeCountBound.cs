using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Exact.Variables;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Bounds.Benders;

/// <summary>
/// Lower bound on the changes of a re-plan by logic-based Benders decomposition (Hooker and Ottosson 2003, from memory). The
/// master assigns stints and shift changes to nights at the fewest changes. Each night's subproblem, exact in its times,
/// decides whether the night is feasible with that many changes; where it is not, a cut goes to the master. Every round proves
/// a bound.
/// </summary>
internal sealed class ChangeCountBound
{
    /// <summary>
    /// Allowances in seconds, or units of effort: for a feasibility query of a night (doubled when queries stay undecided), for
    /// the minimum of a night, for a minimum over the master, and for the search for a plan.
    /// </summary>
    private const double FirstQueryAllowance = 0.15, MinimumAllowance = 0.1, MasterAllowance = 1, PlanAllowance = 0.5;

    /// <summary>
    /// Share of what remains for the changes that the facts force on one night, and for one decision on the week.
    /// </summary>
    private const double FactsShare = 0.5, DecisionShare = 0.7;

    /// <summary>
    /// Most changes beyond the minima of the nights for which the whole week is decided at once. With more of them its model has
    /// too much freedom.
    /// </summary>
    private const long MaxSlack = 1;

    private const string OtherPresolve = $"{CpRun.NoLinearRelaxation} max_presolve_iterations:1 symmetry_level:0";

    /// <summary>
    /// Costs, in changes, of removing an optional stint from its night, in the order tried. A high cost gives a stronger cut for
    /// nights that keep all their stints. A night that is feasible at one cost is feasible at every lower one.
    /// </summary>
    private static readonly int[] RemovalCosts = [6, 1];

    private readonly Problem problem;
    private readonly RootPropagation propagation;
    private readonly Incumbent incumbent;
    private readonly int goal;
    private readonly ChangeSubproblem subproblem;
    private readonly ChangeMaster master;
    private readonly int[][] publishedStints;

    /// <summary>By night: fewest changes, removals of published stints included, while no stint is added to it.</summary>
    private readonly long[] minChangesAsPublished;

    /// <summary>By night: that minimum is reached by a schedule of the night alone.</summary>
    private readonly bool[] minimumIsReached;

    private readonly bool[] publishedIsValid;
    private readonly int[] additionCosts, noAdditionCosts;
    private readonly Dictionary<string, (double Allowance, bool? Infeasible)> answers = [];
    private long[] caps = [];
    private double queryAllowance = FirstQueryAllowance;

    /// <summary>A query of this round was not decided in time.</summary>
    private bool inconclusive;
    private Budget budget = null!;
    private double budgetEnd;

    public ChangeCountBound(Problem problem, RootPropagation propagation, Incumbent incumbent, int goal)
    {
        (this.problem, this.propagation, this.incumbent, this.goal) = (problem, propagation, incumbent, goal);
        (subproblem, master) = (new ChangeSubproblem(problem, propagation), new ChangeMaster(problem, propagation));
        var work = problem.Facts!.Published.WorkByStint(problem);
        publishedStints = [.. problem.Nights.Select(night => problem.Stints
            .Where(stint => problem.Facts.BegunWork[stint.Index] is null && work[stint.Index]?.Night == night.Index
                && propagation.Windows.WindowOf(stint.Index, night.Index) is not null)
            .Select(stint => stint.Index).ToArray())];
        minChangesAsPublished = new long[problem.Nights.Count];
        minimumIsReached = new bool[problem.Nights.Count];
        publishedIsValid = [.. problem.Nights.Select(night => subproblem.PublishedNightIsValid(night.Index))];
        noAdditionCosts = new int[problem.Crew.Count];
        additionCosts = [.. problem.Crew.Select(person => master.IsAtNightLimit(person) ? 2 : 0)];
    }

    private bool BoundReached => incumbent.Values is { } values && incumbent.Bounds()[goal] >= values[goal];

    /// <summary>Also true where a better plan has lowered the caps: the caller then starts again with the new ones.</summary>
    private bool IsDone => budget.Spent || budget.Remaining <= budgetEnd || BoundReached
        || !incumbent.CapsFor(goal).AsSpan().SequenceEqual(caps);

    private IEnumerable<int> OpenNights =>
        problem.Nights.Where(night => night.Closes > problem.Facts!.Now).Select(night => night.Index);

    /// <summary>Keeps the cuts and answers of earlier calls, so the caps must not exceed those of the call before.</summary>
    /// <param name="goalCaps">Largest value allowed of each goal above this one.</param>
    /// <param name="wholeBudget">Is charged for the work done.</param>
    /// <param name="allowance">Seconds, or units of effort, of that budget.</param>
    public void Raise(long[] goalCaps, Budget wholeBudget, double allowance)
    {
        (caps, budget, budgetEnd) = (goalCaps, wholeBudget, wholeBudget.Remaining - allowance);
        for (var above = 0; above < goal; above++)
            if (problem.Goals[above].Goal == GoalId.LeftOut) master.CapLeftOut(caps[above]);
        if (!SolveMaster(out _)) return;
        foreach (var night in OpenNights) CutByFacts(night);
        while (!IsDone && SolveMaster(out var masterSolution))
        {
            if (IsLimitRefuted(masterSolution.ValueOf(master.Changes)!.Value)) continue;
            inconclusive = false;
            if (OpenNights.Sum(night => TryCutNight(night, masterSolution) ? 1 : 0) > 0) continue;
            if (!inconclusive)
            {
                SearchPlan(masterSolution);
                return;
            }
            queryAllowance *= 2;
        }
    }

    /// <summary>
    /// Bounds the shuffled stints of all plans within the caps by the sum of the minima of the nights. A night may have as many
    /// changes there as the other nights leave.
    /// </summary>
    /// <param name="shuffledGoal">Index of the goal shuffled.</param>
    /// <param name="goalCaps">Largest value allowed of each goal above it.</param>
    /// <param name="wholeBudget">Is charged for the work done.</param>
    /// <param name="allowance">Seconds, or units of effort, of that budget.</param>
    public void BoundShuffled(int shuffledGoal, long[] goalCaps, Budget wholeBudget, double allowance)
    {
        (budget, budgetEnd) = (wholeBudget, wholeBudget.Remaining - allowance);
        var (most, _) = MostChangesByNight(goalCaps[goal]);
        var total = 0L;
        bool IsOver() => budget.Spent || budget.Remaining <= budgetEnd || incumbent.Values![shuffledGoal] <= total;
        foreach (var night in OpenNights.Where(night => !publishedIsValid[night]))
        {
            // A stint of a display that may be left out is no change where it is absent, so the query is asked without it.
            int[] stints = [.. publishedStints[night].Where(stint =>
                propagation.Windows.Placement.AlwaysPlaced(problem.Stints[stint].Task.Display))];
            var query = new ChangeSubproblemQuery(night, stints, [], 1, noAdditionCosts);
            for (var shuffled = 0; !IsOver(); shuffled++)
            {
                var allowed = ClampToBudget((budget.Remaining - budgetEnd) * FactsShare);
                if (subproblem.IsInfeasible(query, most[night], budget, allowed, shuffled) != true) break;
                incumbent.RecordBound(goalCaps, ++total);
            }
        }
    }

    /// <summary>
    /// No night refutes the master's solution: the exact model looks for a plan with its nights and no more changes.
    /// </summary>
    private void SearchPlan(IntegerModelSolver masterSolution)
    {
        if (IsDone) return;
        var model = new CpWeekModel(problem);
        foreach (var activity in model.NotBegun.Where(activity => activity.Stint is not null))
            foreach (var night in problem.Nights)
                if (masterSolution.ValueOf(master.Work.InNight(activity.Index, night.Index)) == 0)
                    model.FixFalse(activity.InNight[night.Index]);
        model.With(AllRules.InOrder);
        var changes = CpSearch.PostGoalsWithCaps(model, goal, caps)[goal];
        model.AtMost(changes.Sum, masterSolution.ValueOf(master.Changes)!.Value * changes.Divisor);
        model.Hint(incumbent.Best!);
        new CpRun(model, incumbent, budget).Run(ClampToBudget(PlanAllowance), 1);
    }

    /// <summary>
    /// Solves the master to its proven minimum and records the bound. False where there is no solution or nothing is left to do.
    /// </summary>
    private bool SolveMaster(out IntegerModelSolver masterSolution)
    {
        masterSolution = new IntegerModelSolver(master.Model, budget);
        var status = masterSolution.Minimise(master.Changes, Math.Max(0, budget.Remaining - budgetEnd),
            minimum => incumbent.RecordBound(caps, Math.Max(0, minimum)), () => BoundReached);
        return status == SolverStatus.Solved && !IsDone
            && masterSolution.ValueOf(master.Changes) is not null;
    }

    /// <summary>
    /// Adds a cut where the facts force changes on a night even if it keeps its published stints. Asking for one change more at a
    /// time proves the minimum sooner than minimising does.
    /// </summary>
    private void CutByFacts(int night)
    {
        if (publishedIsValid[night] || minimumIsReached[night] || IsDone) return;
        var query = QueryOf(night, publishedStints[night], [], 1);
        var (before, end) = (minChangesAsPublished[night], budget.Remaining - (budget.Remaining - budgetEnd) * FactsShare);
        var minimum = Math.Max(before, subproblem.MinChanges(query, budget, ClampToBudget(MinimumAllowance)));
        bool? infeasible = true;
        while (!IsDone && budget.Remaining > end)
        {
            infeasible = subproblem.IsInfeasible(query, minimum, budget, ClampToBudget(budget.Remaining - end));
            if (infeasible != true) break;
            minimum++;
        }
        minimumIsReached[night] = infeasible == false;
        if (minimum > before) master.AddCut(query, minChangesAsPublished[night] = minimum, 0);
    }

    /// <summary>
    /// Asks the exact model of the whole week for a plan with at most so many changes. True where there is none: the master then
    /// has one change more. Not asked where the minima of the nights leave much freedom.
    /// </summary>
    private bool IsLimitRefuted(long limit)
    {
        var (most, slack) = MostChangesByNight(limit);
        if (IsDone || slack > MaxSlack) return false;
        var model = CostFilteredModel.Of(problem, goal, caps, limit, most, publishedStints);
        model.Hint(problem.Facts!.PublishedWithActuals);
        var run = new CpRun(model, incumbent, budget);
        SolverStatus Decide(string parameters) =>
            run.Run(ClampToBudget((budget.Remaining - budgetEnd) * DecisionShare), 1, parameters);
        // A second run with another presolve confirms it, as for the nights.
        if (Decide(CpRun.NoLinearRelaxation) != SolverStatus.Infeasible
            || (!model.Infeasible && Decide(OtherPresolve) != SolverStatus.Infeasible)) return false;
        master.AddBound(limit + 1);
        return true;
    }

    /// <summary>
    /// By night: the most changes that a plan with at most so many changes in all has there, because the other nights need some.
    /// Also the changes that remain beyond what the nights need.
    /// </summary>
    private (long[] Most, long Slack) MostChangesByNight(long limit)
    {
        long[] least = [.. problem.Nights.Select(night => LeastChangesOf(night.Index))];
        var slack = limit - least.Sum();
        return ([.. least.Select(value => value + slack)], slack);
    }

    /// <summary>
    /// A lower bound on the changes of one night, by the master. It is 0 for a night that can stay as published.
    /// </summary>
    private long LeastChangesOf(int night)
    {
        var least = 0L;
        if (publishedIsValid[night]) return least;
        new IntegerModelSolver(master.Model, budget).Minimise(
            master.ChangesOf(night), ClampToBudget(MasterAllowance), bound => least = Math.Max(least, bound), () => false);
        return least;
    }

    /// <summary>True where a cut was added: the night is infeasible as the master chose it, or with one added stint.</summary>
    private bool TryCutNight(int night, IntegerModelSolver masterSolution)
    {
        if (IsDone) return false;
        int[] chosen = [.. problem.Stints.Where(stint => problem.Facts!.BegunWork[stint.Index] is null
            && masterSolution.ValueOf(master.Work.InNight(stint.Index, night)) == 1).Select(stint => stint.Index)];
        var published = publishedStints[night];
        int[] added = [.. chosen.Except(published)], kept = [.. chosen.Intersect(published)];
        // Taking work out of a valid published night leaves it valid.
        if (publishedIsValid[night] && added.Length == 0) return false;
        var shiftChanges = masterSolution.ValueOf(master.ShiftChangesOf(night))!.Value;
        var changes = shiftChanges + published.Length - kept.Length;
        // Single added stints first: such a cut also covers every larger set that contains the stint.
        var cut = added.Length > 1 && added.Sum(stint => TryCut(QueryOf(night, published, [stint], 1),
            changes, minChangesAsPublished[night]) == true ? 1 : 0) > 0;
        if (!cut && added.Length > 0)
            cut = TryCut(QueryOf(night, published, added, 1), changes, minChangesAsPublished[night]) == true;
        if (cut) return true;
        foreach (var removalCost in RemovalCosts)
        {
            var answer = TryCut(QueryOf(night, kept, added, removalCost), shiftChanges, 0);
            if (answer == false) break;
            cut |= answer == true;
        }
        return cut;
    }

    /// <summary>In a night under way the master has no columns for added shifts, so their addition cost is 0.</summary>
    private ChangeSubproblemQuery QueryOf(int night, int[] optionalStints, int[] requiredStints, int removalCost) =>
        new(night, optionalStints, requiredStints, removalCost,
            propagation.ShiftWindows.HasBegun(night) ? noAdditionCosts : additionCosts);

    /// <summary>True: the query is infeasible and a cut was added. False: it is feasible. Null: not decided in time.</summary>
    /// <param name="query">The night and its stints.</param>
    /// <param name="masterChanges">The changes of the night in the master's solution.</param>
    /// <param name="minimumIfStintAbsent">Known minimum for the night where a required stint is elsewhere.</param>
    private bool? TryCut(ChangeSubproblemQuery query, long masterChanges, long minimumIfStintAbsent)
    {
        if (IsDone) return null;
        if (IsInfeasible(query, masterChanges) is not true and var answer) return answer;
        if (query.RequiredStints.Count > 0 && IsInfeasible(query with { OptionalStints = [] }, null) == true)
        {
            master.AddNoGood(query.Night, query.RequiredStints);
            return true;
        }
        var minimum = Math.Max(masterChanges + 1, subproblem.MinChanges(query, budget, ClampToBudget(MinimumAllowance)));
        master.AddCut(query, minimum, Math.Min(minimumIfStintAbsent, minimum));
        return true;
    }

    /// <summary>
    /// Answers are cached. A query that was not decided is solved again only with a larger allowance; null: not decided.
    /// </summary>
    private bool? IsInfeasible(ChangeSubproblemQuery query, long? maxChanges)
    {
        var key = $"{query.Night} {maxChanges} {query.RemovalCost} {string.Join(',', query.OptionalStints)} "
            + string.Join(',', query.RequiredStints);
        if (answers.TryGetValue(key, out var known) && (known.Infeasible is not null || known.Allowance >= queryAllowance))
        {
            inconclusive |= known.Infeasible is null;
            return known.Infeasible;
        }
        var infeasible = subproblem.IsInfeasible(query, maxChanges, budget, ClampToBudget(queryAllowance));
        answers[key] = (queryAllowance, infeasible);
        inconclusive |= infeasible is null;
        return infeasible;
    }

    private double ClampToBudget(double allowance) => Math.Max(0.001, Math.Min(budget.Remaining - budgetEnd, allowance));
}
