using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Explaining.Conflicts;

namespace SetWeek.Planning.Tests.Bounds;

/// <summary>What reasoning alone says of a week: impossible, and which requirement makes it so, or not.</summary>
internal static class CertificateAssert
{
    /// <summary>
    /// The week is proven impossible, and the rule named is that of the first requirement whose lifting takes the proof away,
    /// or, where none does alone, that of the proof's own reason.
    /// </summary>
    public static Breach Infeasible(Week week, RuleId rule, Func<RuleSubject, bool> subject)
    {
        var problem = Problem.Of(week);
        var proof = RootPropagation.Of(problem);
        Assert.True(proof.Infeasible);
        var (own, why) = (InfeasibilityReason.OfCertificates(problem, proof), (Breach?)null);
        foreach (var relaxable in AllRelaxableRules.Individually(week).OrderBy(relaxable => InfeasibilityReason.SharesSubject(relaxable.About, own.About) ? 0 : 1))
            if (why is null && !RootPropagation.Of(Problem.Of(relaxable.Relax(week))).Infeasible)
                why = relaxable.Breach with
                {
                    About = Joined(relaxable.About, own.About), Sentence = $"{relaxable.Sentence} {own.Sentence}",
                };
        why ??= own;
        Assert.Equal(rule, why.Rule);
        Assert.True(subject(why.About), $"{why.About}");
        return why;
    }

    public static RootPropagation Feasible(Week week)
    {
        var problem = Problem.Of(week);
        var certificates = RootPropagation.Of(problem);
        Assert.False(certificates.Infeasible, certificates.Infeasible ? InfeasibilityReason.OfCertificates(problem, certificates).Sentence : "");
        return certificates;
    }

    private static RuleSubject Joined(RuleSubject fact, RuleSubject proof) => fact with
    {
        Task = fact.Task ?? proof.Task, Stint = fact.Stint ?? proof.Stint, Display = fact.Display ?? proof.Display,
        Night = fact.Night ?? proof.Night, Skill = fact.Skill ?? proof.Skill, Equipment = fact.Equipment ?? proof.Equipment,
    };
}
