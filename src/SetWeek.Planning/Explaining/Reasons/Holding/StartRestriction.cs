using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Explaining.Reasons.Holding;

/// <summary>
/// An instance of a rule that keeps a stint from starting at some moments; told apart by being another object.
/// </summary>
/// <param name="rule">Its id.</param>
/// <param name="about">As the check says what an instance is about.</param>
/// <param name="sentence">What a lead reads.</param>
/// <param name="forbiddenStarts">The starts that it bars, minutes, half-open; empty where they were found one by one.</param>
internal sealed class StartRestriction(RuleId rule, RuleSubject about, string sentence, params IReadOnlyList<Span> forbiddenStarts)
{
    public RuleId Rule => rule;

    /// <summary>The other work that is in the way.</summary>
    public RuleSubject? By { get; init; }

    /// <summary>The minute from which it holds no more.</summary>
    public int? Until { get; init; }

    public bool Forbids(int start) => forbiddenStarts.Any(span => span.From <= start && start < span.To);

    /// <summary>Bars every start of the span.</summary>
    public bool ForbidsAll(Span starts) => forbiddenStarts.Any(span => span.Contains(starts));

    /// <summary>The first of the barred starts that lie together with this one.</summary>
    public int FirstForbiddenBefore(int start) => forbiddenStarts.Where(span => span.From <= start && start < span.To).Min(span => span.From);

    public BlockingRule ToBlockingRule(Problem problem) => new(rule, about, sentence)
    {
        By = By, Until = Until is { } minute and < Problem.Never ? problem.Grid.TimeOf(minute) : null,
    };
}
