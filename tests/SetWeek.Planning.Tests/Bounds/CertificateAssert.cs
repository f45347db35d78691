using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Explaining.Conflicts;

namespace SetWeek.Planning.Tests.Bounds;

/// <summary>
/// Asserts whether propagation at the root proves a week infeasible, and which requirement it names as the reason.
/// </summary>
internal static class CertificateAssert
{
    /// <summary>
    /// Asserts that the week is proven infeasible and that the reason has this rule and subject. The reason is the first
    /// requirement whose relaxation removes the proof, or the proof's own reason where no single relaxation does.
    /// </summary>
    public static Breach Infeasible(Week week, RuleId rule, Func<RuleSubject, bool> subject)
    {
        var problem = Problem.Of(week);
        var proof = RootPropagation.Of(problem);
        Assert.True(proof.Infeasible);
        var (own, reason) = (InfeasibilityReason.OfCertificates(problem, proof), (Breach?)null);
        foreach (var relaxable in AllRelaxableRules.Individually(week)
            .OrderBy(relaxable => InfeasibilityReason.SharesSubject(relaxable.About, own.About) ? 0 : 1))
            if (reason is null && !RootPropagation.Of(Problem.Of(relaxable.Relax(week))).Infeasible)
                reason = relaxable.Breach with
                {
                    About = CombinedSubject(relaxable.About, own.About), Sentence = $"{relaxable.Sentence} {own.Sentence}",
                };
        reason ??= own;
        Assert.Equal(rule, reason.Rule);
        Assert.True(subject(reason.About), $"{reason.About}");
        return reason;
    }

    public static RootPropagation Feasible(Week week)
    {
        var problem = Problem.Of(week);
        var certificates = RootPropagation.Of(problem);
        Assert.False(certificates.Infeasible,
            certificates.Infeasible ? InfeasibilityReason.OfCertificates(problem, certificates).Sentence : "");
        return certificates;
    }

    private static RuleSubject CombinedSubject(RuleSubject requirement, RuleSubject proof) => requirement with
    {
        Task = requirement.Task ?? proof.Task, Stint = requirement.Stint ?? proof.Stint,
            Display = requirement.Display ?? proof.Display,
        Night = requirement.Night ?? proof.Night, Skill = requirement.Skill ?? proof.Skill,
            Equipment = requirement.Equipment ?? proof.Equipment,
    };
}
