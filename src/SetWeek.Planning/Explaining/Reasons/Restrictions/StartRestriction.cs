using SetWeek.Model.Plans;
using SetWeek.Model.Problems;
using SetWeek.Model.Time;

namespace SetWeek.Planning.Explaining.Reasons.Restrictions;

/// <summary>
/// An instance of a rule that forbids some starts of a stint. Instances are compared by reference.
/// </summary>
/// <param name="rule">The id of the rule.</param>
/// <param name="about">What the instance is about, as in a breach.</param>
/// <param name="sentence">The instance in words.</param>
/// <param name="forbiddenStarts">
/// The forbidden starts in minutes, as half-open spans; empty if the forbidden starts were found one by one.
/// </param>
internal sealed class StartRestriction(
    RuleId rule, RuleSubject about, string sentence, params IReadOnlyList<Span> forbiddenStarts)
{
    public RuleId Rule => rule;

    /// <summary>The other work that blocks; null if there is none.</summary>
    public RuleSubject? By { get; init; }

    /// <summary>
    /// The minute from which this instance of the rule no longer blocks a start; null if there is no single such minute.
    /// </summary>
    public int? Until { get; init; }

    public bool Forbids(int start) => forbiddenStarts.Any(span => span.From <= start && start < span.To);

    /// <summary>True if every start within the span is forbidden.</summary>
    public bool ForbidsAll(Span starts) => forbiddenStarts.Any(span => span.Contains(starts));

    /// <summary>The first start of the forbidden spans that contain the given start.</summary>
    public int FirstForbiddenBefore(int start) =>
        forbiddenStarts.Where(span => span.From <= start && start < span.To).Min(span => span.From);

    public BlockingRule ToBlockingRule(Problem problem) => new(rule, about, sentence)
    {
        By = By, Until = Until is { } minute and < Problem.Never ? problem.Grid.TimeOf(minute) : null,
    };
}
