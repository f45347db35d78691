namespace SetWeek.Scheduling.Options;

internal sealed class EarliestFinish : IOptionKind
{
    public string Id => "earliest-finish";

    public Direction For(Situation situation) => new("Done soonest",
        "The last work ends as early as it can: the most time in hand before launch.",
        Direction.Ahead(situation.Problem.Week, "finish"));
}
