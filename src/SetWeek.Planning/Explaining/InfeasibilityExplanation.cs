using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Explaining.Conflicts;
using SetWeek.Planning.Explaining.Repairs;
using SetWeek.Planning.Search;

namespace SetWeek.Planning.Explaining;

/// <summary>Why a week has no plan, and what would make one possible.</summary>
/// <param name="Conflict">Rule instances that cannot hold together.</param>
/// <param name="Irreducible">Proven: none of them could be left out.</param>
/// <param name="Repairs">Proven by a checked plan each, best first.</param>
internal sealed record InfeasibilityExplanation(IReadOnlyList<Breach> Conflict, bool Irreducible, IReadOnlyList<Repair> Repairs)
{
    /// <summary>Most of the time that goes into the conflict: what would help is worth as much.</summary>
    private const double ConflictShare = 0.6;

    /// <summary>The conflict first, then repairs until the budget is spent.</summary>
    /// <param name="problem">Proven to have no plan.</param>
    /// <param name="budget">Most to spend on all of it.</param>
    /// <param name="proofTime">How long it took, in seconds or units, to prove that.</param>
    /// <param name="onProgress">Given what is known so far, each time that there is more.</param>
    public static InfeasibilityExplanation Of(Problem problem, Budget budget, double proofTime, Action<InfeasibilityExplanation> onProgress)
    {
        var reasons = budget.CreateChild(budget.Remaining * ConflictShare);
        var conflict = new ConflictSearch(problem.Week, new FeasibilityProbe(problem.Replan, reasons), proofTime).Find();
        budget.Charge(reasons.Used);
        var probe = new FeasibilityProbe(problem.Replan, budget);
        var known = new InfeasibilityExplanation(
            [.. BreachesOf(conflict, problem).Select(breach => breach with { Sentence = WeekPhrases.Truncated(breach.Sentence) })],
            conflict.Irreducible, []);
        onProgress(known);
        // Where nothing is left of the week but what cannot be lifted, nothing of it can be changed either.
        return conflict.Members.Count == 0 ? known : known with
        {
            Repairs = new RepairSearch(problem.Week, conflict, probe, repairs => onProgress(known with { Repairs = repairs })).Find(),
        };
    }

    /// <summary>The plan file that says that there is no plan, and why.</summary>
    public Plan AsPlan(Problem problem) => new()
    {
        Week = problem.Week.Id, Status = PlanStatus.Infeasible, Conflict = Conflict, ConflictSmallest = Irreducible, Repairs = Repairs,
    };

    /// <summary>
    /// Where reasoning alone sees that the members cannot hold together, its figures are told with the member that they are
    /// about.
    /// </summary>
    private static IReadOnlyList<Breach> BreachesOf(Conflict conflict, Problem problem)
    {
        var alone = Problem.Of(conflict.RelaxedWeek, problem.Replan);
        var proof = RootPropagation.Of(alone);
        if (!proof.Infeasible)
            return conflict.Members.Count > 0 ? [.. conflict.Members.Select(member => member.Breach)]
                : [new(RuleId.Frozen, new RuleSubject(), "What has begun and what was published leave no plan, whatever else is changed.")];
        var figures = InfeasibilityReason.OfCertificates(alone, proof);
        if (conflict.Members.Count == 0) return [figures];
        var at = conflict.Members.Index().FirstOrDefault(one => InfeasibilityReason.SharesSubject(one.Item.About, figures.About)).Index;
        return [.. conflict.Members.Select((member, index) => index != at ? member.Breach
            : member.Breach with { Sentence = $"{member.Sentence} {figures.Sentence}" })];
    }
}
