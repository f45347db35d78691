using SetWeek.Scheduling.Search.Bounds;

namespace SetWeek.Scheduling.Tests.Bounds;

/// <summary>What reasoning alone says of a week: impossible, and why, or not.</summary>
internal static class Verdict
{
    public static Breach Blamed(Week week, string rule, Func<About, bool> about)
    {
        var why = Certificates.Of(Problem.Of(week)).Why;
        Assert.NotNull(why);
        Assert.Equal(rule, why.Rule);
        Assert.True(about(why.About), $"{why.About}");
        return why;
    }

    public static Certificates Possible(Week week)
    {
        var certificates = Certificates.Of(Problem.Of(week));
        Assert.False(certificates.Impossible, certificates.Why?.Sentence);
        return certificates;
    }
}
