namespace SetWeek.Planning.Replanning;

/// <summary>
/// All kinds of option; a new kind adds a line here. If there are more options than can be shown, the earlier kinds win. Kinds
/// that respond to the facts come before kinds that are always possible.
/// </summary>
internal static class AllOptionKinds
{
    public static IReadOnlyList<IOptionKind> InOrder { get; } =
    [
        new FewestChanges(),
        new AlternateInstead(),
        new Surest(),
        new Cheapest(),
        new WantLeftOut(),
        new EarliestFinish(),
        new OneMoreNight(),
    ];
}
