namespace SetWeek.Planning.Replanning;

/// <summary>The re-plan by the week's own goals in their own order. Few changes usually are an early goal there.</summary>
internal sealed class FewestChanges : IOptionKind
{
    public string Id => "fewest-changes";

    public OptionSpecification For(ReplanSituation situation) => new("Fewest changes",
        "The published plan changes as little as the week's goals allow.", situation.Problem.Week);
}
