using SetWeek.Model.Weeks;
using SetWeek.Model.Problems;
using SetWeek.Model.Rules;
using SetWeek.Planning.Bounds.Linear;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Exact;
using SetWeek.Planning.Exact.Variables;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Bounds.Benders;

/// <summary>
/// The least change of a re-plan, by turns (logic-based Benders decomposition): the master chooses what is least by all that is
/// known of nights; each night is asked, exact in its hours, whether it can be had at that price; where it cannot, that is
/// told to the master as a cut. A bound is proven in every round.
/// </summary>
internal sealed class ChangeCountBound
{
    /// <summary>Seconds, or units, that a question about a night may take, finding its least, and finding a plan.</summary>
    private const double FirstQueryAllowance = 0.15, MinimumAllowance = 0.1, PlanAllowance = 0.5;

    /// <summary>
    /// What a stint pays for leaving its night, tried in turn: dear ones tell more of those that stay, and what can be had at the
    /// dearest can be had at any.
    /// </summary>
    private static readonly int[] RemovalCosts = [6, 1];

    private readonly Problem problem;
    private readonly RootPropagation propagation;
    private readonly Incumbent incumbent;
    private readonly int goal;
    private readonly ChangeSubproblem subproblem;
    private readonly ChangeMaster master;
    private readonly int[][] publishedStints;
    private readonly long[] minChangesAsPublished;
    private readonly bool[] publishedIsValid;
    private readonly int[] additionCosts, noAdditionCosts;
    private readonly Dictionary<string, (double Patience, bool? Answer)> answers = [];
    private long[] caps = [];
    private double queryAllowance = FirstQueryAllowance;
    private bool inconclusive;
    private Budget budget = null!;
    private double budgetEnd;

    public ChangeCountBound(Problem problem, RootPropagation propagation, Incumbent incumbent, int goal)
    {
        (this.problem, this.propagation, this.incumbent, this.goal) = (problem, propagation, incumbent, goal);
        (subproblem, master) = (new ChangeSubproblem(problem, propagation), new ChangeMaster(problem, propagation));
        var work = problem.Facts!.Published.WorkByStint(problem);
        publishedStints = [.. problem.Nights.Select(night => problem.Stints.Where(stint => problem.Facts.BegunWork[stint.Index] is null
            && work[stint.Index]?.Night == night.Index && propagation.Windows.WindowOf(stint.Index, night.Index) is not null)
            .Select(stint => stint.Index).ToArray())];
        minChangesAsPublished = new long[problem.Nights.Count];
        publishedIsValid = [.. problem.Nights.Select(night => subproblem.PublishedNightIsValid(night.Index))];
        noAdditionCosts = new int[problem.Crew.Count];
        additionCosts = [.. problem.Crew.Select(person => master.IsAtNightLimit(person) ? 2 : 0)];
    }

    private bool BoundReached => incumbent.Values is { } values && incumbent.Bounds()[goal] >= values[goal];

    /// <summary>Also where a better plan holds the goals above to less: it is gone on with from there.</summary>
    private bool IsDone => budget.Spent || budget.Remaining <= budgetEnd || BoundReached || !incumbent.CapsFor(goal).AsSpan().SequenceEqual(caps);

    private IEnumerable<int> OpenNights =>
        problem.Nights.Where(night => night.Closes > problem.Facts!.Now).Select(night => night.Index);

    /// <summary>Goes on with what is known of nights; each time the goals above are held to no more than the time before.</summary>
    /// <param name="goalCaps">What the goals above are held to.</param>
    /// <param name="wholeBudget">What may be used.</param>
    /// <param name="allowance">Seconds, or units of effort, of it.</param>
    public void Raise(long[] goalCaps, Budget wholeBudget, double allowance)
    {
        (caps, budget, budgetEnd) = (goalCaps, wholeBudget, wholeBudget.Remaining - allowance);
        for (var one = 0; one < goal; one++)
            if (problem.Goals[one].Goal == GoalId.LeftOut) master.CapLeftOut(caps[one]);
        if (!SolveMaster(out _)) return;
        foreach (var night in OpenNights) CutByFacts(night);
        while (!IsDone && SolveMaster(out var chosen))
        {
            inconclusive = false;
            if (OpenNights.Count(night => TryCutNight(night, chosen)) > 0) continue;
            if (!inconclusive)
            {
                SearchPlan(chosen);
                return;
            }
            queryAllowance *= 2;
        }
    }

    /// <summary>
    /// Nothing speaks against what the master has chosen: a plan with those nights and no more changes is looked for.
    /// </summary>
    private void SearchPlan(IntegerModelSolver masterSolution)
    {
        if (IsDone) return;
        var model = new CpWeekModel(problem);
        foreach (var activity in model.NotBegun.Where(activity => activity.Stint is not null))
            foreach (var night in problem.Nights)
                if (masterSolution.ValueOf(master.Work.InNight(activity.Index, night.Index)) == 0) model.FixFalse(activity.InNight[night.Index]);
        model.With(AllRules.InOrder);
        var changes = CpSearch.PostGoalsWithCaps(model, goal, caps)[goal];
        model.AtMost(changes.Sum, masterSolution.ValueOf(master.Changes)!.Value * changes.Divisor);
        model.Hint(incumbent.Best!);
        new CpRun(model, incumbent, budget).Run(ClampToBudget(PlanAllowance), 1);
    }

    /// <summary>The master's least, proven; false where it has none to show or nothing is left to prove.</summary>
    private bool SolveMaster(out IntegerModelSolver masterSolution)
    {
        masterSolution = new IntegerModelSolver(master.Model, budget);
        var ending = masterSolution.Minimise(master.Changes, Math.Max(0, budget.Remaining - budgetEnd),
            least => incumbent.RecordBound(caps, Math.Max(0, least)), () => BoundReached);
        return ending == SolverStatus.Solved && !IsDone && masterSolution.ValueOf(master.Changes) is not null;
    }

    /// <summary>What the facts do to a night as published.</summary>
    private void CutByFacts(int night)
    {
        var question = QueryOf(night, publishedStints[night], [], 1);
        if (publishedIsValid[night] || IsDone || IsInfeasible(question, 0) != true) return;
        minChangesAsPublished[night] = Math.Max(1, subproblem.MinChanges(question, budget, ClampToBudget(MinimumAllowance)));
        master.AddCut(question, minChangesAsPublished[night], 0);
    }

    /// <summary>True where the night cannot be had as chosen, or cannot with one of the stints that come.</summary>
    private bool TryCutNight(int night, IntegerModelSolver masterSolution)
    {
        if (IsDone) return false;
        int[] here = [.. problem.Stints.Where(stint => problem.Facts!.BegunWork[stint.Index] is null
            && masterSolution.ValueOf(master.Work.InNight(stint.Index, night)) == 1).Select(stint => stint.Index)];
        int[] comes = [.. here.Except(publishedStints[night])], stays = [.. here.Intersect(publishedStints[night])];
        // As published, or with less of that.
        if (publishedIsValid[night] && comes.Length == 0) return false;
        var price = masterSolution.ValueOf(master.ShiftChangesOf(night))!.Value;
        // One alone first: what keeps it out keeps it out in whatever company.
        var cut = comes.Length > 1 && comes.Count(one => TryCut(QueryOf(night, publishedStints[night], [one], 1),
            price + publishedStints[night].Length - stays.Length, minChangesAsPublished[night]) == true) > 0;
        if (!cut && comes.Length > 0)
            cut = TryCut(QueryOf(night, publishedStints[night], comes, 1), price + publishedStints[night].Length - stays.Length, minChangesAsPublished[night]) == true;
        if (cut) return true;
        foreach (var dear in RemovalCosts)
        {
            var one = TryCut(QueryOf(night, stays, comes, dear), price, 0);
            if (one == false) break;
            cut |= one == true;
        }
        return cut;
    }

    /// <summary>Who is added to a night under way is not counted by the master.</summary>
    private ChangeSubproblemQuery QueryOf(int night, int[] optionalStints, int[] requiredStints, int removalCost) =>
        new(night, optionalStints, requiredStints, removalCost, propagation.ShiftWindows.HasBegun(night) ? noAdditionCosts : additionCosts);

    /// <summary>Whether the master has been told that it cannot be had; null: not found out.</summary>
    private bool? TryCut(ChangeSubproblemQuery query, long masterChanges, long minimumIfStintAbsent)
    {
        if (IsDone) return null;
        if (IsInfeasible(query, masterChanges) is not true and var answer) return answer;
        if (query.RequiredStints.Count > 0 && IsInfeasible(query with { OptionalStints = [] }, null) == true)
        {
            master.AddNoGood(query.Night, query.RequiredStints);
            return true;
        }
        var least = Math.Max(masterChanges + 1, subproblem.MinChanges(query, budget, ClampToBudget(MinimumAllowance)));
        master.AddCut(query, least, Math.Min(minimumIfStintAbsent, least));
        return true;
    }

    /// <summary>Not asked twice, unless it was not found out and there is more patience now.</summary>
    private bool? IsInfeasible(ChangeSubproblemQuery query, long? maxChanges)
    {
        var key = $"{query.Night} {maxChanges} {query.RemovalCost} {string.Join(',', query.OptionalStints)} "
            + string.Join(',', query.RequiredStints);
        if (answers.TryGetValue(key, out var before) && (before.Answer is not null || before.Patience >= queryAllowance))
        {
            inconclusive |= before.Answer is null;
            return before.Answer;
        }
        var never = subproblem.IsInfeasible(query, maxChanges, budget, ClampToBudget(queryAllowance));
        answers[key] = (queryAllowance, never);
        inconclusive |= never is null;
        return never;
    }

    private double ClampToBudget(double allowance) => Math.Clamp(budget.Remaining - budgetEnd, 0.001, allowance);
}
