using NodaTime;
using SetWeek.Model.Plans;

namespace SetWeek.Planning.Explaining.Reasons.Holding;

/// <summary>An instance of a rule that holds something where it is.</summary>
public sealed record BlockingRule(RuleId Rule, RuleSubject About, string Sentence)
{
    /// <summary>The other work that is in the way, where some is.</summary>
    public RuleSubject? By { get; init; }

    /// <summary>When it holds no more, where that is a moment.</summary>
    public OffsetDateTime? Until { get; init; }
}
