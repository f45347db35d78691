using SetWeek.Domain.Checks;

namespace SetWeek.Domain.Tests.Checks;

public sealed class StandardChecksTests
{
    private static IReadOnlyList<(string List, IReadOnlyList<StandardCheck> Checks)> Lists =>
    [
        ("briefing", StandardChecks.All.Briefing), ("closing", StandardChecks.All.Closing), ("lock-up", StandardChecks.All.LockUp),
        ("walk-through", StandardChecks.All.WalkThrough),
    ];

    [Fact]
    public void Every_check_has_a_sentence_a_source_and_an_id_of_its_own_in_its_list() => Assert.All(Lists, list =>
    {
        Assert.NotEmpty(list.Checks);
        Assert.Distinct(list.Checks.Select(check => check.Id));
        Assert.All(list.Checks, check => Assert.True(check.Sentence.EndsWith('.') && check.Source.Length > 0, check.Id));
        Assert.All(list.Checks, check => Assert.Matches("^[a-z][a-z-]+$", check.Id));
    });

    /// <summary>
    /// ADA Standards 403.5.1 ask for 36 in. That is 914.4 mm; the standards themselves round it to 915 mm. 18 in below a sprinkler
    /// (29 CFR 1910.159(c)(10)) are 457.2 mm, and the sentence says 460.
    /// </summary>
    [Fact]
    public void The_figures_are_those_of_their_sources()
    {
        var width = StandardChecks.All.WalkThrough.Single(check => check.Id == "widths");
        Assert.Equal(915, width.AtLeastMillimetres);
        Assert.InRange(width.AtLeastMillimetres!.Value - 36 * 25.4, 0, 1);
        var sprinkler = StandardChecks.All.WalkThrough.Single(check => check.Id == "sprinklers");
        Assert.Contains("460 mm", sprinkler.Sentence);
        Assert.InRange(460 - 18 * 25.4, 0, 3);
    }

    [Fact]
    public void What_could_hurt_somebody_and_what_must_be_said_is_marked()
    {
        Assert.Equal(["exits", "first-aid"], StandardChecks.All.Briefing.Where(item => item.IsRequired).Select(item => item.Id));
        Assert.Equal(["exits", "loose-decoration"], StandardChecks.All.Closing.Where(check => check.IsRequired).Select(check => check.Id));
        Assert.Equal(["shake", "widths", "exits", "sprinklers", "below-child-height"],
            StandardChecks.All.WalkThrough.Where(check => check.IsSafety).Select(check => check.Id));
    }
}
