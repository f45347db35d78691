using SetWeek.Model.Goals;
using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Explaining.Conflicts;
using SetWeek.Planning.Explaining.Repairs;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Explaining;

/// <summary>Why a week has no plan, and which changes would make one possible.</summary>
/// <param name="Conflict">Rule instances that cannot all hold.</param>
/// <param name="Irreducible">
/// True if it is proven that the conflict is minimal: without any one member, the others can hold.
/// </param>
/// <param name="Repairs">Changes, best first; a checked plan proves each.</param>
internal sealed record InfeasibilityExplanation(IReadOnlyList<Breach> Conflict, bool Irreducible, IReadOnlyList<Repair> Repairs)
{
    /// <summary>The largest share of the budget that the conflict may use; the rest is for repairs.</summary>
    private const double ConflictShare = 0.6;

    /// <summary>Searches the conflict first, then repairs until the budget is spent.</summary>
    /// <param name="problem">A problem that is proven infeasible.</param>
    /// <param name="budget">The budget of the whole explanation.</param>
    /// <param name="proofTime">How long the infeasibility proof took, in seconds or effort units.</param>
    /// <param name="onProgress">Called with the explanation so far whenever there is more of it.</param>
    public static InfeasibilityExplanation Of(Problem problem, Budget budget, double proofTime,
        Action<InfeasibilityExplanation> onProgress)
    {
        problem = Problem.Of(HoldGoal.WithoutHold(problem.Week), problem.Replan);
        var conflictBudget = budget.CreateChild(budget.Remaining * ConflictShare);
        var conflict = new ConflictSearch(problem.Week, new FeasibilityProbe(problem.Replan, conflictBudget), proofTime).Find();
        budget.Charge(conflictBudget.Used);
        var probe = new FeasibilityProbe(problem.Replan, budget);
        var known = new InfeasibilityExplanation(
            [.. BreachesOf(conflict, problem)
                .Select(breach => breach with { Sentence = WeekPhrases.Truncated(breach.Sentence) })],
            conflict.Irreducible, []);
        onProgress(known);
        // An empty conflict means that no relaxable rule is to blame, so no change can repair the week.
        return conflict.Members.Count == 0 ? known : known with
        {
            Repairs = new RepairSearch(problem.Week, conflict, probe,
                repairs => onProgress(known with { Repairs = repairs })).Find(),
        };
    }

    /// <summary>A plan file with the status infeasible, the conflict and the repairs.</summary>
    public Plan AsPlan(Problem problem) => new()
    {
        Week = problem.Week.Id, Status = PlanStatus.Infeasible, Conflict = Conflict, ConflictSmallest = Irreducible,
        Repairs = Repairs, Notes = ClippedTimes.Notes(problem),
    };

    /// <summary>
    /// The members as breaches. If propagation alone proves the conflict, its figures are added to the member that they concern.
    /// </summary>
    private static IReadOnlyList<Breach> BreachesOf(Conflict conflict, Problem problem)
    {
        var relaxed = Problem.Of(conflict.RelaxedWeek, problem.Replan);
        var proof = RootPropagation.Of(relaxed);
        if (!proof.Infeasible)
            return conflict.Members.Count > 0 ? [.. conflict.Members.Select(member => member.Breach)]
                : [new(RuleId.Frozen, new RuleSubject(),
                    "No change to the week makes a plan possible: the facts and the frozen part of the published plan rule it "
                        + "out.")];
        var figures = InfeasibilityReason.OfCertificates(relaxed, proof);
        if (conflict.Members.Count == 0) return [figures];
        var concerned = conflict.Members.Index()
            .FirstOrDefault(member => InfeasibilityReason.SharesSubject(member.Item.About, figures.About)).Index;
        return [.. conflict.Members.Select((member, index) => index != concerned ? member.Breach
            : member.Breach with { Sentence = $"{member.Sentence} {figures.Sentence}" })];
    }
}
