namespace SetWeek.Planning.Replanning;

/// <summary>The re-plan as the week asks for it: its own goals in their own order, in which changes mostly come early.</summary>
internal sealed class FewestChanges : IOptionKind
{
    public string Id => "fewest-changes";

    public OptionSpecification For(ReplanSituation situation) => new("Fewest changes",
        "Keeping to what people have been told comes first.", situation.Problem.Week);
}
