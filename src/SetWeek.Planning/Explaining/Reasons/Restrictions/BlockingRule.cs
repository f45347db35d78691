using NodaTime;
using SetWeek.Model.Plans;

namespace SetWeek.Planning.Explaining.Reasons.Restrictions;

/// <summary>An instance of a rule that stops a stint from starting earlier, or a person from being on it.</summary>
/// <param name="Rule">The id of the rule.</param>
/// <param name="About">What the instance is about.</param>
/// <param name="Sentence">The instance in words.</param>
public sealed record BlockingRule(RuleId Rule, RuleSubject About, string Sentence)
{
    /// <summary>The other work that blocks; null if there is none.</summary>
    public RuleSubject? By { get; init; }

    /// <summary>When the instance stops blocking; null if that is not one time.</summary>
    public OffsetDateTime? Until { get; init; }
}
