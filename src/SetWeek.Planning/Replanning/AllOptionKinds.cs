namespace SetWeek.Planning.Replanning;

/// <summary>
/// The list that a new kind adds its line to. In the order in which they are shown, where there are more than can be: what is
/// particular to the facts before what could always be asked.
/// </summary>
internal static class AllOptionKinds
{
    public static IReadOnlyList<IOptionKind> InOrder { get; } =
    [
        new FewestChanges(),
        new AlternateInstead(),
        new Cheapest(),
        new WantLeftOut(),
        new EarliestFinish(),
        new OneMoreNight(),
    ];
}
