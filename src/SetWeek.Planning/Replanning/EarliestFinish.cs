namespace SetWeek.Planning.Replanning;

internal sealed class EarliestFinish : IOptionKind
{
    public string Id => "earliest-finish";

    public Direction For(Situation situation) => new("Done soonest",
        "An early end of the work comes first, for more time in hand before launch.",
        Direction.Ahead(situation.Problem.Week, "finish"));
}
