using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Weeks;
using SetWeek.Planning.Bounds.Propagation;
using SetWeek.Planning.Explaining.Conflicts;

namespace SetWeek.Planning.Tests.Bounds;

/// <summary>What reasoning alone says of a week: impossible, and which requirement makes it so, or not.</summary>
internal static class Verdict
{
    /// <summary>
    /// The week is proven impossible, and the rule named is that of the first requirement whose lifting takes the proof away,
    /// or, where none does alone, that of the proof's own reason.
    /// </summary>
    public static Breach Blamed(Week week, string rule, Func<About, bool> about)
    {
        var problem = Problem.Of(week);
        var proof = Certificates.Of(problem);
        Assert.True(proof.Impossible);
        var (own, why) = (Reason.Own(problem, proof), (Breach?)null);
        foreach (var relief in AllReliefs.Single(week).OrderBy(relief => Reason.Concerns(relief.About, own.About) ? 0 : 1))
            if (why is null && !Certificates.Of(Problem.Of(relief.Lift(week))).Impossible)
                why = relief.Breach with
                {
                    About = Joined(relief.About, own.About), Sentence = $"{relief.Sentence} {own.Sentence}",
                };
        why ??= own;
        Assert.Equal(rule, why.Rule);
        Assert.True(about(why.About), $"{why.About}");
        return why;
    }

    public static Certificates Possible(Week week)
    {
        var problem = Problem.Of(week);
        var certificates = Certificates.Of(problem);
        Assert.False(certificates.Impossible, certificates.Impossible ? Reason.Own(problem, certificates).Sentence : "");
        return certificates;
    }

    private static About Joined(About fact, About proof) => fact with
    {
        Task = fact.Task ?? proof.Task, Stint = fact.Stint ?? proof.Stint, Display = fact.Display ?? proof.Display,
        Night = fact.Night ?? proof.Night, Skill = fact.Skill ?? proof.Skill, Equipment = fact.Equipment ?? proof.Equipment,
    };
}
